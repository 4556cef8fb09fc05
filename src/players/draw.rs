//! The players of a score, each with a line of its own.
//!
//! Winds and brass have a part for each player, strings one for each section, everybody else one for each part of the
//! score. A shared staff is told apart bar by bar (`shared`); what it does not tell goes to all who share it and is
//! listed.

use std::collections::BTreeMap;

use super::names::{self, Count, Instrument, Reading};
use super::{Hands, Player, Undecided};
use crate::place::{PartId, StaffId};
use crate::score::{Cell, Family, Part, Score, Staff, SystemMark};

mod heading;
mod list;
mod pauses;
mod shared;
mod who;

pub use list::{PartsList, PartsListError};
pub use who::is_who_plays;

/// Who plays a score.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawn {
    /// In score order.
    pub players: Vec<Player>,
    /// Entries of the parts list that name no staves of the score.
    pub unknown: Vec<PartsListError>,
}

/// Draws every player's line from a score; `list` says otherwise where it says anything.
#[must_use]
pub fn draw(score: &Score, list: Option<&PartsList>) -> Drawn {
    let mut readers = readers(score);
    let unknown = list.map_or_else(Vec::new, |list| list.apply(score, &mut readers));
    let mut players = Vec::with_capacity(readers.len());
    let mut rest = readers.as_slice();
    while let Some(first) = rest.first() {
        let same = rest.iter().take_while(|other| other.shares_with(first)).count().max(1);
        let (group, others) = rest.split_at(same);
        players.extend(lines(score, group));
        rest = others;
    }
    let pauses = pauses::pauses(score);
    players.iter_mut().for_each(|player| pauses::share(&pauses, player));
    Drawn { players, unknown }
}

/// A part of the score as a player of its own, whatever it is joined with otherwise; `None` where there is none.
#[must_use]
pub fn of_part(score: &Score, part: PartId) -> Option<Player> {
    let own = score.parts.get(part.at())?;
    let staves: Vec<StaffId> = score.staves_of(part).collect();
    let hands = hands(own, &names::read(own));
    let reader = Reader { name: heading::tidy(&own.name), part, staves, hands, share: None, copies: 1 };
    let mut player = player(score, &reader, own_cells(score, &reader.staves), Vec::new());
    pauses::share(&pauses::pauses(score), &mut player);
    Some(player)
}

/// A score that is one player's part already.
#[must_use]
pub fn alone(score: Score) -> Player {
    let first = score.parts.first().cloned().unwrap_or_default();
    let reading = names::read(&first);
    Player {
        name: heading::tidy(&first.name),
        family: first.family,
        hands: hands(&first, &reading),
        number: None,
        staves: (0..score.staves.len()).map(|staff| StaffId(staff as u16)).collect(),
        copies: 1,
        music: score,
        undecided: Vec::new(),
    }
}

/// Someone who reads some staves, before the line is drawn.
#[derive(Clone, Debug, PartialEq)]
struct Reader {
    name: String,
    /// The first of its parts in the score.
    part: PartId,
    staves: Vec<StaffId>,
    hands: Hands,
    /// Which of how many share the staves, counted from 1, and the numbers that words call them by; `None` for all.
    share: Option<Share>,
    copies: u16,
}

#[derive(Clone, Debug, PartialEq)]
struct Share {
    /// Counted from 0.
    own: usize,
    /// As words call the players, in order: 3 and 4 for the second pair of horns.
    numbers: Vec<u32>,
}

impl Reader {
    /// Drawn from the same shared staff.
    fn shares_with(&self, other: &Reader) -> bool {
        self.share.is_some() && other.share.is_some() && self.staves == other.staves
    }
}

fn readers(score: &Score) -> Vec<Reader> {
    let mut readers: Vec<Reader> = Vec::new();
    let mut counted: Vec<(Instrument, Option<String>, u32)> = Vec::new();
    for (at, part) in score.parts.iter().enumerate() {
        let id = PartId(at as u16);
        let staves: Vec<StaffId> = score.staves_of(id).collect();
        let reading = names::read(part);
        let hands = hands(part, &reading);
        let name = if part.name.trim().is_empty() { format!("Part {}", at + 1) } else { heading::tidy(&part.name) };
        let one = Reader { name, part: id, staves, hands, share: None, copies: 1 };
        if is_divided_section(readers.last(), &one, score) {
            if let Some(last) = readers.last_mut() {
                last.staves.extend(one.staves);
            }
            continue;
        }
        let numbers = numbers(score, &reading, &one.staves, &mut counted);
        if numbers.len() < 2 || hands != Hands::Wind {
            readers.push(one);
            continue;
        }
        for (own, number) in numbers.iter().enumerate() {
            let name = heading::of_player(&part.name, *number);
            let share = Some(Share { own, numbers: numbers.clone() });
            readers.push(Reader { name, share, ..one.clone() });
        }
    }
    tell_apart(&mut readers);
    readers
}

/// A name that stands twice in the score is numbered: "Violin", "Violin (2)".
fn tell_apart(readers: &mut [Reader]) {
    let mut seen: BTreeMap<String, u32> = BTreeMap::new();
    for reader in readers {
        let count = seen.entry(reader.name.clone()).or_default();
        *count += 1;
        if *count > 1 {
            reader.name = format!("{} ({count})", reader.name);
        }
    }
}

/// Neighbouring parts of strings that bear the same name, but for "div." and what follows it, are one section.
fn is_divided_section(last: Option<&Reader>, one: &Reader, score: &Score) -> bool {
    let name = |id: PartId| score.parts.get(id.at()).map(|part| undivided(&part.name));
    last.is_some_and(|last| {
        last.hands == Hands::Section && one.hands == Hands::Section && name(last.part) == name(one.part)
    })
}

/// "Violins I" of "Violins I div. 2".
fn undivided(name: &str) -> String {
    let kept = name.split_whitespace().take_while(|word| !word.to_lowercase().starts_with("div"));
    kept.collect::<Vec<_>>().join(" ")
}

/// The numbers of those who share a part; one or none where it is a single player's.
fn numbers(
    score: &Score,
    reading: &Reading,
    staves: &[StaffId],
    counted: &mut Vec<(Instrument, Option<String>, u32)>,
) -> Vec<u32> {
    let key = (reading.instrument, reading.other.clone());
    let known = counted.iter().position(|(instrument, other, _)| (*instrument, other.clone()) == key);
    let before = known.and_then(|at| counted.get(at)).map_or(0, |(.., count)| *count);
    let numbers: Vec<u32> = match &reading.count {
        Count::Ordinals(ordinals) => ordinals.clone(),
        Count::Players(players) => (before + 1..=before + players).collect(),
        Count::One | Count::Untold => {
            let most = staves.iter().map(|staff| who::most_named(score, *staff)).max().unwrap_or(1);
            (before + 1..=before + most.max(1)).collect()
        }
    };
    let last = numbers.last().copied().unwrap_or(before).max(before);
    match known.and_then(|at| counted.get_mut(at)) {
        Some((.., count)) => *count = last,
        None => counted.push((key.0, key.1, last)),
    }
    numbers
}

fn hands(part: &Part, reading: &Reading) -> Hands {
    match (reading.instrument, part.family) {
        (Instrument::Timpani, _) => Hands::Timpani,
        (Instrument::Harp, _) => Hands::Harp,
        (Instrument::Voices, _) | (_, Family::Voices) => Hands::Voice,
        (Instrument::Soloist, Family::Strings) => Hands::Bowed,
        (_, Family::Woodwind | Family::Brass) => Hands::Wind,
        (_, Family::Percussion) => Hands::Percussion,
        (_, Family::Keyboard) => Hands::Keyboard,
        (_, Family::Strings) => Hands::Section,
        (_, Family::Unknown) => match reading.instrument {
            instrument if instrument <= Instrument::Tuba => Hands::Wind,
            Instrument::Percussion => Hands::Percussion,
            Instrument::Keyboard => Hands::Keyboard,
            Instrument::ViolinI
            | Instrument::ViolinII
            | Instrument::Viola
            | Instrument::Cello
            | Instrument::DoubleBass => Hands::Section,
            _ => Hands::Unknown,
        },
    }
}

/// The players who read the same staves.
fn lines(score: &Score, group: &[Reader]) -> Vec<Player> {
    let Some(first) = group.first() else { return Vec::new() };
    let shared = first.share.as_ref().filter(|_| first.staves.len() == 1);
    let Some(share) = shared else {
        return group
            .iter()
            .map(|reader| player(score, reader, own_cells(score, &reader.staves), Vec::new()))
            .collect();
    };
    let Some(staff) = first.staves.first().copied() else { return Vec::new() };
    let told = shared::tell(score, staff, &share.numbers);
    let mut players = Vec::new();
    for reader in group {
        let own = reader.share.as_ref().map_or(0, |share| share.own);
        let cells = told.lines.get(own).cloned().unwrap_or_default();
        let undecided = told.undecided.iter().map(|open| open.named(staff)).collect();
        players.push(player(score, reader, cells, undecided));
    }
    players
}

fn own_cells(score: &Score, staves: &[StaffId]) -> Vec<Cell> {
    let all = score.staves.len().max(1);
    let of_bar = |cells: &[Cell]| {
        staves.iter().map(|staff| cells.get(staff.at()).cloned().unwrap_or_default()).collect::<Vec<_>>()
    };
    score.cells.chunks(all).flat_map(of_bar).collect()
}

fn player(score: &Score, reader: &Reader, cells: Vec<Cell>, undecided: Vec<Undecided>) -> Player {
    let part = score.parts.get(reader.part.at()).cloned().unwrap_or_default();
    let family = part.family;
    let part = Part { name: reader.name.clone(), ..part };
    let staves = (1..=reader.staves.len() as u16).map(|number| Staff { part: PartId(0), number }).collect();
    let over = |mark: &SystemMark| if mark.over.is_empty() { Vec::new() } else { vec![StaffId(0)] };
    let music = Score {
        title: score.title.clone(),
        composer: score.composer.clone(),
        movements: score.movements.clone(),
        bars: score.bars.clone(),
        parts: vec![part],
        staves,
        groups: Vec::new(),
        cells,
        marks: score.marks.iter().map(|mark| SystemMark { over: over(mark), ..mark.clone() }).collect(),
        credits: Vec::new(),
        concert_pitch: score.concert_pitch,
        tempo_assumed: score.tempo_assumed,
        note_elements: 0,
    };
    let number = reader.share.as_ref().map(|share| share.own as u16 + 1);
    Player {
        name: reader.name.clone(),
        family,
        hands: reader.hands,
        number,
        staves: reader.staves.clone(),
        copies: reader.copies,
        music,
        undecided,
    }
}

#[cfg(test)]
mod tests;
