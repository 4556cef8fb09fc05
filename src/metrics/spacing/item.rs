//! What stands at one moment on one staff, and the room it needs to its left and right.

use super::SpacingRules;
use crate::score::{Cell, Event, EventKind, Grace, Note, Stem};
use crate::units::Spaces;

/// Half spaces from the middle line to the first ledger line.
const LEDGER: i32 = 6;
/// Accidentals of one chord stand above each other when they are a seventh apart (common practice).
const SEVENTH: i32 = 6;

/// Half spaces from the middle line upwards, and whether an accidental stands before it.
pub(super) type Head = (i32, bool);

/// Everything on one staff at one moment: notes and rests of all voices, and what belongs to them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Item {
    /// Columns of accidentals side by side.
    pub accidentals: u8,
    pub graces: u8,
    pub arpeggio: bool,
    /// A clef before it.
    pub clef: bool,
    pub dots: u8,
    /// A flag on the right of its stem.
    pub flag: bool,
    /// Two heads side by side.
    pub second: bool,
    /// Ledger lines above and below the staff.
    pub above: bool,
    pub below: bool,
}

impl Item {
    /// A clef at the end of a bar.
    pub const CLEF: Item = Item {
        accidentals: 0,
        graces: 0,
        arpeggio: false,
        clef: true,
        dots: 0,
        flag: false,
        second: false,
        above: false,
        below: false,
    };

    /// From all events of one staff at one moment. `heads` is room to work in.
    pub fn of(events: &[&Event], graces: u8, cell: &Cell, heads: &mut Vec<Head>) -> Item {
        let mut item = Item { graces, ..Item::default() };
        heads.clear();
        for event in events {
            item.dots = item.dots.max(event.value.dots);
            item.arpeggio |= event.arpeggio;
            let EventKind::Chord(notes) = &event.kind else { continue };
            let middle = cell.clef_at(event.onset).middle_line_steps();
            item.flag |= has_flag(event) && stem_points_up(event, notes, middle);
            heads.extend(notes.iter().map(|note| (note.pitch.steps().saturating_sub(middle), note.accidental)));
        }
        heads.sort_unstable();
        let neighbours = heads.iter().zip(heads.iter().skip(1));
        item.second = neighbours.into_iter().any(|(lower, upper)| upper.0 - lower.0 == 1);
        item.above = heads.last().is_some_and(|head| head.0 >= LEDGER);
        item.below = heads.first().is_some_and(|head| head.0 <= -LEDGER);
        item.accidentals = accidental_columns(heads);
        item
    }

    /// Whether it needs more than a head does on its left.
    pub fn reaches_left(self) -> bool {
        self.accidentals > 0 || self.graces > 0 || self.arpeggio || self.clef
    }

    /// Whether it needs more than a head does on its right.
    pub fn reaches_right(self) -> bool {
        self.dots > 0 || self.flag || self.second
    }

    /// Ledger lines of neighbours must not run into each other.
    pub fn shares_ledgers(self, next: Item) -> bool {
        (self.above && next.above) || (self.below && next.below)
    }

    /// Before its head.
    pub fn left(self, rules: &SpacingRules) -> Spaces {
        rules.accidental * f64::from(self.accidentals)
            + rules.grace * f64::from(self.graces)
            + when(self.arpeggio, rules.arpeggio)
            + when(self.clef, rules.clef_change)
    }

    /// The same just after a barline, where accidentals stand in the air that is there anyway.
    pub fn after_barline(self, rules: &SpacingRules) -> Spaces {
        let accidentals = rules.accidental_after_barline * f64::from(self.accidentals);
        accidentals + Item { accidentals: 0, clef: false, ..self }.left(rules)
    }

    /// Its head, and what follows it.
    pub fn right(self, rules: &SpacingRules) -> Spaces {
        rules.head + rules.dot * f64::from(self.dots) + when(self.flag, rules.flag) + when(self.second, rules.second)
    }
}

fn when(holds: bool, room: Spaces) -> Spaces {
    if holds { room } else { Spaces::ZERO }
}

fn has_flag(event: &Event) -> bool {
    event.grace == Grace::No && event.beams == 0 && event.value.halvings.is_some_and(|halvings| halvings >= 3)
}

/// As written; where the file is silent, away from the note that is farthest from the middle line.
fn stem_points_up(event: &Event, notes: &[Note], middle: i32) -> bool {
    match event.stem {
        Stem::Up => true,
        Stem::Down | Stem::None => false,
        Stem::Unknown => {
            let position = |note: &Note| note.pitch.steps().saturating_sub(middle);
            let lowest = notes.iter().map(position).min().unwrap_or(0);
            let highest = notes.iter().map(position).max().unwrap_or(0);
            lowest + highest < 0
        }
    }
}

/// From the top down, each accidental goes into the first column whose last one is a seventh or more above it.
fn accidental_columns(heads: &[Head]) -> u8 {
    let mut lowest: Vec<i32> = Vec::new();
    for (position, _) in heads.iter().rev().filter(|head| head.1) {
        match lowest.iter_mut().find(|above| **above - position >= SEVENTH) {
            Some(above) => *above = *position,
            None => lowest.push(*position),
        }
    }
    u8::try_from(lowest.len()).unwrap_or(u8::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::quarter;
    use crate::score::NoteValue;

    fn chord(names: &[&str]) -> Event {
        let notes = |name: &&str| match quarter(name, 0).kind {
            EventKind::Chord(notes) => notes,
            EventKind::Rest { .. } => Vec::new(),
        };
        Event { kind: EventKind::Chord(names.iter().flat_map(notes).collect()), ..quarter("C4", 0) }
    }

    fn item(event: &Event) -> Item {
        Item::of(&[event], 0, &Cell::default(), &mut Vec::new())
    }

    fn with_accidentals(names: &[&str]) -> Event {
        let mut event = chord(names);
        if let EventKind::Chord(notes) = &mut event.kind {
            notes.iter_mut().for_each(|note| note.accidental = true);
        }
        event
    }

    #[test]
    fn accidentals_a_seventh_apart_share_a_column() {
        assert_eq!(item(&with_accidentals(&["C4", "B4"])).accidentals, 1);
        assert_eq!(item(&with_accidentals(&["C4", "A4"])).accidentals, 2);
        assert_eq!(item(&with_accidentals(&["C4", "E4", "G4"])).accidentals, 3);
        assert_eq!(item(&with_accidentals(&["C4", "E4", "C5"])).accidentals, 2);
        assert_eq!(item(&chord(&["C4", "E4"])).accidentals, 0);
    }

    #[test]
    fn only_the_heads_of_a_second_stand_side_by_side() {
        assert!(item(&chord(&["G4", "A4"])).second);
        assert!(!item(&chord(&["G4", "B4"])).second);
    }

    #[test]
    fn heads_of_two_voices_a_second_apart_stand_side_by_side() {
        let (upper, lower) = (quarter("A4", 0), quarter("G4", 0));
        assert!(Item::of(&[&upper, &lower], 0, &Cell::default(), &mut Vec::new()).second);
    }

    /// In treble clef middle C and A5 have the first ledger lines, D4 and G5 none.
    #[test]
    fn ledger_lines_begin_two_notes_outside_the_staff() {
        assert!(item(&quarter("C4", 0)).below && item(&quarter("A5", 0)).above);
        assert!(!item(&quarter("D4", 0)).below && !item(&quarter("G5", 0)).above);
        assert!(item(&quarter("C4", 0)).shares_ledgers(item(&quarter("A3", 0))));
        assert!(!item(&quarter("C4", 0)).shares_ledgers(item(&quarter("A5", 0))));
    }

    #[test]
    fn a_flag_needs_room_only_on_an_upward_stem() {
        let eighth = |name: &str| Event { value: NoteValue { halvings: Some(3), dots: 0 }, ..quarter(name, 0) };
        assert!(item(&eighth("E4")).flag);
        assert!(!item(&eighth("E5")).flag);
        assert!(item(&Event { stem: Stem::Up, ..eighth("E5") }).flag);
        assert!(!item(&Event { beams: 1, ..eighth("E4") }).flag);
        assert!(!item(&quarter("E4", 0)).flag);
    }
}
