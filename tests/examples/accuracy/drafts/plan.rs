//! A second draft as a plan: which bars and parts of the first it has, and what is changed in them. The plan is the truth
//! that the comparing is held against.

use std::collections::BTreeMap;

use rastrum::score::{EventKind, Score};

use super::seed::Seed;

/// A bar of the new draft.
#[derive(Clone, Copy, Debug)]
pub struct PlannedBar {
    /// The bar of the old draft that it is; `None` where it was put in.
    pub is: Option<usize>,
    /// The bar that its music is taken from.
    pub source: usize,
    /// Its notes stand so many steps higher: new music in old rhythm.
    pub shift: i8,
    pub moved: bool,
}

/// A part of the new draft.
#[derive(Clone, Debug)]
pub struct PlannedPart {
    pub is: Option<usize>,
    pub source: usize,
    pub shift: i8,
    /// Another name.
    pub name: Option<String>,
    /// Written for another transposition: steps and half tones up to the sounding pitch.
    pub transposed: Option<(i8, i8)>,
}

/// What is changed in one bar of one part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edit {
    Pitch,
    Rhythm,
    Dynamic,
    Words,
    Articulation,
}

const EDITS: [Edit; 5] = [Edit::Pitch, Edit::Rhythm, Edit::Dynamic, Edit::Words, Edit::Articulation];

/// Kinds of changes, as the figures name them.
pub const KINDS: [&str; 10] = [
    "bars put in",
    "bars out",
    "bars moved",
    "notes changed",
    "part dropped",
    "part added",
    "part renamed",
    "parts reordered",
    "part transposed",
    "pages cast off anew",
];

#[derive(Clone, Debug)]
pub struct Plan {
    pub bars: Vec<PlannedBar>,
    pub parts: Vec<PlannedPart>,
    /// By bar and part of the old draft.
    pub edits: BTreeMap<(usize, usize), Edit>,
}

impl Plan {
    pub fn of(score: &Score) -> Plan {
        let bar = |at| PlannedBar { is: Some(at), source: at, shift: 0, moved: false };
        let part = |at| PlannedPart { is: Some(at), source: at, shift: 0, name: None, transposed: None };
        Plan {
            bars: (0..score.bars.len()).map(bar).collect(),
            parts: (0..score.parts.len()).map(part).collect(),
            edits: BTreeMap::new(),
        }
    }

    /// Makes one change of a kind; `KINDS` names them.
    pub fn change(&mut self, kind: usize, score: &Score, seed: &mut Seed) {
        let count = seed.between(1, 30).min(self.bars.len() / 3);
        match kind {
            0 => self.put_in(count, seed),
            1 => {
                let from = seed.below(self.bars.len() - count);
                self.bars.drain(from..from + count);
            }
            2 => self.move_block(count, seed),
            3 => self.edit(score, seed),
            4 if self.parts.len() > 2 => {
                self.parts.remove(seed.below(self.parts.len()));
            }
            5 => {
                let source = seed.below(score.parts.len());
                let part = PlannedPart {
                    is: None,
                    source,
                    shift: 3,
                    name: Some(format!("Added {}", seed.below(1000))),
                    transposed: None,
                };
                self.parts.insert(seed.below(self.parts.len() + 1), part);
            }
            6 => {
                let at = seed.below(self.parts.len());
                self.parts[at].name = Some(format!("Renamed {}", seed.below(1000)));
            }
            7 => {
                let (one, other) = (seed.below(self.parts.len()), seed.below(self.parts.len()));
                let part = self.parts.remove(one);
                self.parts.insert(other.min(self.parts.len()), part);
            }
            8 => self.transpose(score, seed),
            // Other pages are no change of the music.
            _ => {}
        }
    }

    fn put_in(&mut self, count: usize, seed: &mut Seed) {
        let (from, at) = (seed.below(self.bars.len() - count), seed.below(self.bars.len() + 1));
        let shift = if seed.coin() { 2 } else { 0 };
        let new: Vec<PlannedBar> = self.bars[from..from + count]
            .iter()
            .map(|bar| PlannedBar { is: None, source: bar.source, shift, moved: false })
            .collect();
        self.bars.splice(at..at, new);
    }

    fn move_block(&mut self, count: usize, seed: &mut Seed) {
        let from = seed.below(self.bars.len() - count);
        let block: Vec<PlannedBar> =
            self.bars.drain(from..from + count).map(|bar| PlannedBar { moved: bar.is.is_some(), ..bar }).collect();
        let at = seed.below(self.bars.len() + 1);
        self.bars.splice(at..at, block);
    }

    /// One to twenty bars, one to three parts of each that play there.
    fn edit(&mut self, score: &Score, seed: &mut Seed) {
        for _ in 0..seed.between(1, 20) {
            let bar = seed.below(score.bars.len());
            for _ in 0..seed.between(1, 3) {
                let part = seed.below(score.parts.len());
                if plays(score, bar, part) {
                    self.edits.insert((bar, part), EDITS[seed.below(EDITS.len())]);
                }
            }
        }
    }

    /// A part that sounds as written becomes one for an instrument in B flat, A or F.
    fn transpose(&mut self, score: &Score, seed: &mut Seed) {
        let by = [(-1, -2), (-2, -3), (-4, -7)][seed.below(3)];
        let fits = |part: &&mut PlannedPart| {
            part.is.is_some_and(|own| (0..score.bars.len()).any(|bar| plays(score, bar, own)) && at_pitch(score, own))
        };
        let mut able: Vec<&mut PlannedPart> = self.parts.iter_mut().filter(fits).collect();
        let at = seed.below(able.len());
        if let Some(part) = able.get_mut(at) {
            part.transposed = Some(by);
        }
    }
}

/// Staves of a part, as places in a bar's cells.
pub fn staves(score: &Score, part: usize) -> Vec<usize> {
    (0..score.staves.len()).filter(|at| score.staves[*at].part.at() == part).collect()
}

fn at_pitch(score: &Score, part: usize) -> bool {
    let staves = staves(score, part);
    let all = score.staves.len();
    let plain = |cell: &rastrum::score::Cell| {
        cell.transposition == Default::default()
            && !cell
                .events
                .iter()
                .any(|event| matches!(&event.kind, EventKind::Chord(notes) if notes.iter().any(|note| note.unpitched)))
    };
    (0..score.bars.len()).all(|bar| staves.iter().all(|staff| plain(&score.cells[bar * all + staff])))
}

/// Whether a part has a whole note element to change in a bar.
pub fn plays(score: &Score, bar: usize, part: usize) -> bool {
    let all = score.staves.len();
    staves(score, part).iter().any(|staff| score.cells[bar * all + staff].events.iter().any(super::build::is_plain))
}
