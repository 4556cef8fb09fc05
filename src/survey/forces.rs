//! Who plays: counted from the list of parts, and written as librarians write it.
//!
//! Only what names tell is counted; a plural without a number is "not told", never two.

use crate::place::PartId;
use crate::players::names::{self, Count, Reading};
use crate::score::Score;

mod line;

pub use crate::players::names::Instrument;

/// Who plays: counted from the list of parts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Forces {
    /// In score order.
    pub players: Vec<ForcesEntry>,
}

/// One instrument of the forces.
#[derive(Clone, Debug, PartialEq)]
pub struct ForcesEntry {
    /// Which line of the forces it counts for.
    pub instrument: Instrument,
    /// Players, without those in `others`; `None` where the names do not tell (strings, chorus).
    pub players: Option<u32>,
    /// Doublings: which player (from 1, when told) takes which instrument, as abbreviations ("II=picc").
    pub doublings: Vec<(Option<u32>, String)>,
    /// Players who hold another instrument of the kind throughout ("picc", "ca"), and the names of keyboards,
    /// soloists, voices and others; one entry a player.
    pub others: Vec<String>,
    pub parts: Vec<PartId>,
}

/// Counts the forces of a score.
pub(super) fn forces(score: &Score) -> Forces {
    let mut tallies: Vec<Tally> = Vec::new();
    for (at, part) in score.parts.iter().enumerate() {
        let reading = names::read(part);
        for instrument in violins(&reading, &tallies) {
            let tally = match tallies.iter().position(|tally| tally.instrument == instrument) {
                Some(at) => tallies.get_mut(at),
                None => {
                    tallies.push(Tally::new(instrument));
                    tallies.last_mut()
                }
            };
            if let Some(tally) = tally {
                tally.add(PartId(at as u16), &reading);
            }
        }
    }
    tallies.sort_by_key(|tally| tally.instrument);
    Forces { players: tallies.into_iter().map(Tally::entry).collect() }
}

/// Violins are told apart by their number, else by their order; cello and bass may share a part.
fn violins(reading: &Reading, tallies: &[Tally]) -> Vec<Instrument> {
    let taken = |instrument| tallies.iter().any(|tally| tally.instrument == instrument);
    match (reading.instrument, &reading.count) {
        (Instrument::ViolinI, Count::Ordinals(ordinals)) if ordinals == &[2] => vec![Instrument::ViolinII],
        (Instrument::ViolinI, Count::Ordinals(ordinals)) if ordinals == &[1, 2] => {
            vec![Instrument::ViolinI, Instrument::ViolinII]
        }
        (Instrument::ViolinI, Count::One | Count::Untold) if taken(Instrument::ViolinI) => vec![Instrument::ViolinII],
        (Instrument::Cello, _) if reading.also_bass => vec![Instrument::Cello, Instrument::DoubleBass],
        (instrument, _) => vec![instrument],
    }
}

/// Players of one instrument while its parts are gone through.
struct Tally {
    instrument: Instrument,
    /// Players known by number, each once, however many parts name them.
    ordinals: Vec<u32>,
    /// Players of parts without a number.
    unnumbered: u32,
    untold: bool,
    doublings: Vec<(Option<u32>, String)>,
    others: Vec<String>,
    parts: Vec<PartId>,
}

impl Tally {
    fn new(instrument: Instrument) -> Tally {
        let (doublings, others, parts) = (Vec::new(), Vec::new(), Vec::new());
        Tally { instrument, ordinals: Vec::new(), unnumbered: 0, untold: false, doublings, others, parts }
    }

    fn add(&mut self, part: PartId, reading: &Reading) {
        self.parts.push(part);
        let doubler = match &reading.count {
            Count::Ordinals(ordinals) if ordinals.len() == 1 => ordinals.first().copied(),
            _ => None,
        };
        for doubling in &reading.doublings {
            let new = (doubler, doubling.clone());
            if !self.doublings.contains(&new) {
                self.doublings.push(new);
            }
        }
        if let Some(other) = &reading.other {
            self.add_other(other, &reading.count);
            return;
        }
        match &reading.count {
            Count::Ordinals(ordinals) => self.ordinals.extend(ordinals),
            Count::Players(players) => self.unnumbered += players,
            Count::One => self.unnumbered += 1,
            Count::Untold => self.untold = true,
        }
    }

    /// A named instrument counts once, whatever number of players a plural hides.
    fn add_other(&mut self, name: &str, count: &Count) {
        let players = match count {
            _ if self.instrument == Instrument::Other => 1,
            Count::Ordinals(ordinals) => ordinals.len(),
            Count::Players(players) => *players as usize,
            Count::One | Count::Untold => 1,
        };
        self.others.extend(std::iter::repeat_n(name.to_owned(), players.clamp(1, 16)));
    }

    fn entry(mut self) -> ForcesEntry {
        self.ordinals.sort_unstable();
        self.ordinals.dedup();
        let counted = self.ordinals.len() as u32 + self.unnumbered;
        let sections = Instrument::ViolinI <= self.instrument && self.instrument <= Instrument::DoubleBass;
        let players = (!self.untold && !sections && !self.instrument.is_named()).then_some(counted);
        ForcesEntry {
            instrument: self.instrument,
            players,
            doublings: self.doublings,
            others: self.others,
            parts: self.parts,
        }
    }
}

#[cfg(test)]
mod tests;
