//! Which part of a later movement is which part of the earlier ones.

use super::draft::PartDraft;
use super::fold::fold;
use super::join::WorkPart;
use crate::place::PartId;
use crate::score::{Family, Part};

/// The parts of all movements so far.
#[derive(Default)]
pub(super) struct Matching {
    slots: Vec<Slot>,
    /// Slots from the top of the score down.
    order: Vec<usize>,
}

struct Slot {
    part: Part,
    name: String,
    abbreviation: String,
    /// The name without the key that the instrument stands in.
    keyless: String,
    staves: u16,
}

impl Matching {
    /// Matches one movement's parts with those known; gives each part's slot. New parts stand after the part that they
    /// stand under in their own movement.
    pub fn add(&mut self, parts: &[PartDraft]) -> Vec<usize> {
        let known = self.slots.len();
        let new: Vec<Slot> = parts.iter().map(Slot::of).collect();
        let mut found: Vec<Option<usize>> = vec![None; new.len()];
        let mut taken = vec![false; known];
        let ways: [fn(&Slot, &Slot) -> bool; 5] =
            [Slot::same_name, Slot::same_abbreviation, Slot::same_but_for_key, Slot::same_chair, Slot::same_instrument];
        for way in ways {
            for (slot, found) in new.iter().zip(&mut found).filter(|(_, found)| found.is_none()) {
                let fits = |at: &&usize| {
                    !taken.get(**at).copied().unwrap_or(true)
                        && self.slots.get(**at).is_some_and(|known| way(known, slot))
                };
                *found = self.order.iter().find(fits).copied();
                if let Some(taken) = found.and_then(|at| taken.get_mut(at)) {
                    *taken = true;
                }
            }
        }
        let mut after = 0;
        let mut slots = Vec::with_capacity(new.len());
        for (slot, found) in new.into_iter().zip(found) {
            let at = match found {
                Some(at) => {
                    if let Some(known) = self.slots.get_mut(at) {
                        known.take_in(slot);
                    }
                    at
                }
                None => {
                    self.slots.push(slot);
                    let at = self.slots.len() - 1;
                    self.order.insert(after, at);
                    at
                }
            };
            after = self.order.iter().position(|known| *known == at).map_or(after, |place| place + 1);
            slots.push(at);
        }
        slots
    }

    /// The parts in score order with their staves, and the place of every slot.
    pub fn finish(self) -> (Vec<WorkPart>, Vec<PartId>) {
        let mut places = vec![PartId(0); self.slots.len()];
        for (place, slot) in self.order.iter().enumerate() {
            if let (Some(entry), Ok(place)) = (places.get_mut(*slot), u16::try_from(place)) {
                *entry = PartId(place);
            }
        }
        let mut parts: Vec<(PartId, WorkPart)> =
            places.iter().copied().zip(self.slots).map(|(place, slot)| (place, (slot.part, slot.staves))).collect();
        parts.sort_by_key(|(place, _)| *place);
        (parts.into_iter().map(|(_, part)| part).collect(), places)
    }
}

impl Slot {
    fn of(draft: &PartDraft) -> Slot {
        let staves = u16::try_from(draft.columns.len()).unwrap_or(u16::MAX).max(1);
        let part = draft.part.clone();
        Slot {
            name: comparable(&part.name),
            abbreviation: comparable(&part.abbreviation),
            keyless: keyless(&part.name),
            part,
            staves,
        }
    }

    fn same_name(&self, other: &Slot) -> bool {
        !self.name.is_empty() && self.name == other.name
    }

    fn same_abbreviation(&self, other: &Slot) -> bool {
        let same = |one: &str, other: &str| !one.is_empty() && one == other;
        let short = same(&self.abbreviation, &other.abbreviation) && (self.name.is_empty() || other.name.is_empty());
        short || same(&self.name, &other.abbreviation) || same(&self.abbreviation, &other.name)
    }

    /// For parts without names, or renamed ones that kept their id.
    fn same_instrument(&self, other: &Slot) -> bool {
        if self.number() != other.number() {
            return false;
        }
        let (one, other) = (&self.part, &other.part);
        let named =
            !one.instruments.is_empty() || !one.sounds.is_empty() || (one.name.is_empty() && other.name.is_empty());
        one.id == other.id && named && one.instruments == other.instruments && one.sounds == other.sounds
    }

    /// Clarinets, horns and trumpets change their key from movement to movement.
    fn same_but_for_key(&self, other: &Slot) -> bool {
        !self.keyless.is_empty() && self.keyless == other.keyless
    }

    /// The same standard sound with the same number: "Timpani" and "Pauken", "Horn 2" and "Corno 2".
    fn same_chair(&self, other: &Slot) -> bool {
        let telling = |sound: &String| !sound.ends_with("group");
        let sounds = &self.part.sounds;
        !sounds.is_empty()
            && sounds.iter().all(telling)
            && *sounds == other.part.sounds
            && self.number() == other.number()
    }

    /// The last digit of "Horn 2".
    fn number(&self) -> Option<char> {
        self.name.chars().last().filter(char::is_ascii_digit)
    }

    fn take_in(&mut self, other: Slot) {
        self.staves = self.staves.max(other.staves);
        self.part.note_elements += other.part.note_elements;
        let add = |known: &mut Vec<String>, more: Vec<String>| {
            for item in more {
                if !known.contains(&item) {
                    known.push(item);
                }
            }
        };
        add(&mut self.part.instruments, other.part.instruments);
        add(&mut self.part.sounds, other.part.sounds);
        if self.part.family == Family::Unknown {
            self.part.family = other.part.family;
        }
        if self.part.abbreviation.is_empty() {
            self.part.abbreviation = other.part.abbreviation;
        }
    }
}

/// A comparable name without the key of a transposing instrument: "Bb Clarinet 1" and "Clarinet 1 in A" are one.
fn keyless(name: &str) -> String {
    const KEYS: [&str; 13] = ["bb", "eb", "ab", "db", "gb", "es", "as", "des", "ges", "fis", "flat", "sharp", "bemol"];
    // What stands in brackets is a note on the name.
    let folded = fold(name.split(['[', '(']).next().unwrap_or_default());
    let mut words = Vec::new();
    let mut is_key = false;
    for word in folded.split(' ') {
        let is_letter = word.len() == 1 && word.starts_with(|c| ('a'..='h').contains(&c));
        let skipped = is_key || is_letter || KEYS.contains(&word);
        is_key = matches!(word, "in" | "en");
        if !skipped && !is_key {
            words.push(word);
        }
    }
    comparable(&words.join(" "))
}

/// A name without case, spaces and points, Roman numbers as digits: "Violin II" and "violin 2" are one.
fn comparable(name: &str) -> String {
    let folded = fold(name);
    let words = folded.split(' ').map(|word| match word {
        "i" => "1",
        "ii" => "2",
        "iii" => "3",
        "iv" => "4",
        "v" => "5",
        "vi" => "6",
        other => other,
    });
    words.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_compared_without_their_dress() {
        assert_eq!(comparable("Violin II"), comparable("VIOLIN 2"));
        assert_ne!(comparable("Violin I"), comparable("Violin II"));
        assert_eq!(keyless("B\u{266d} Clarinet 1"), keyless("Clarinet 1 in A"));
        assert_eq!(keyless("Corno I in Fa"), keyless("Corno 1"));
        assert_ne!(keyless("E\u{266d} Horn 1"), keyless("C Horn 2"));
        assert_eq!(keyless("B Horn 3 [NB: B natural]"), keyless("Horn 3"));
        assert_eq!(keyless("in F"), "");
    }
}
