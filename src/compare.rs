//! Two drafts of one piece held against each other: the music bar by bar and part by part, then what became of its pages,
//! its turns, its findings, and of the sheets that are already printed.
//!
//! Music is compared at sounding pitch, so that a part that was written anew for another instrument is the same music. What
//! moved on paper, and what a file leaves out altogether, is no change of the music.

use std::collections::BTreeSet;

use crate::align::{self, Likeness, Step};
use crate::place::{BarIdx, PartId};
use crate::score::Score;

mod alike;
mod cells;
mod errata;
mod found;
mod line;
mod lines;
mod matched;
mod over;
mod pages;
mod prints;
mod sheets;
mod turns;

#[cfg(test)]
mod tests;

pub use errata::{Erratum, Hand};
pub use found::{Found, FoundChange, FoundFate, Spot, found};
pub use line::{LineEdits, OwnLine, full_score, line, players};
pub use matched::Matched;
pub use pages::{DensityChange, Figures, Leaves, PagePair, Pages, pages};
pub use sheets::{Fate, Printed, Reason, Run, Sheet, SheetFate, Sheets, Why, leaves, sheets, to_print};
pub use turns::{TurnAt, TurnChange, TurnFate, turns};

use alike::Bars;
use lines::Line;
use prints::Prints;

/// The music of two drafts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Music {
    /// Every part of either draft once: in the order of the second one, those left out where they stood.
    pub parts: Vec<PartPair>,
    /// Every bar of either draft once: in the order of the second one, those taken out where they stood. A moved bar stands
    /// where it went.
    pub bars: Vec<BarPair>,
    /// How much of the longer draft is alike, from 0 to 1: of the bars that sound, each as far as its partner is like it.
    pub alike: f64,
}

/// A part of both drafts, or of one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PartPair {
    /// `None`: added.
    pub old: Option<PartId>,
    /// `None`: dropped.
    pub new: Option<PartId>,
    pub renamed: bool,
    /// It stands elsewhere among the others.
    pub reordered: bool,
    /// Written for another transposition, at the same sounding pitch.
    pub retransposed: bool,
}

/// A bar of both drafts, or of one.
#[derive(Clone, Debug, PartialEq)]
pub struct BarPair {
    pub old: Option<BarIdx>,
    pub new: Option<BarIdx>,
    pub status: Status,
    /// What changed for everybody: metre, barlines, marks over the system.
    pub over: Vec<What>,
    /// What changed in single parts, in their order; parts that are the same are not here.
    pub cells: Vec<CellEdit>,
}

/// One bar of one part that is not the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CellEdit {
    /// Among [`Music::parts`].
    pub part: usize,
    /// In the order of [`What`]; at least one.
    pub what: Vec<What>,
}

/// What became of a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Status {
    Equal,
    /// At its place, and something in it changed.
    Edited,
    Inserted,
    Deleted,
    /// It stands elsewhere, changed or not.
    Moved,
}

/// What can change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    Notes,
    Rhythm,
    Cues,
    Dynamics,
    /// Words and sung text.
    Words,
    /// Articulation, ornaments, slurs, fermatas, octave lines, pedal.
    Signs,
    Clef,
    Key,
    Metre,
    /// Repeats, endings, double bars, jumps.
    Barlines,
    /// Rehearsal marks.
    Landmarks,
    Tempo,
    /// Stems, beams, accidentals that only remind: the same to the player.
    Layout,
}

impl What {
    /// As the published JSON writes it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            What::Notes => "notes",
            What::Rhythm => "rhythm",
            What::Cues => "cues",
            What::Dynamics => "dynamics",
            What::Words => "words",
            What::Signs => "signs",
            What::Clef => "clef",
            What::Key => "key",
            What::Metre => "metre",
            What::Barlines => "barlines",
            What::Landmarks => "landmarks",
            What::Tempo => "tempo",
            What::Layout => "layout",
        }
    }
}

impl Status {
    /// As the published JSON writes it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Status::Equal => "equal",
            Status::Edited => "edited",
            Status::Inserted => "inserted",
            Status::Deleted => "deleted",
            Status::Moved => "moved",
        }
    }
}

impl BarPair {
    /// Everything that changed in it, for anybody, once and in order.
    #[must_use]
    pub fn what(&self) -> Vec<What> {
        let mut all: Vec<What> =
            self.over.iter().chain(self.cells.iter().flat_map(|cell| &cell.what)).copied().collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Whether somebody has something else to read than stems and beams.
    #[must_use]
    pub fn is_edited(&self) -> bool {
        !self.over.is_empty() || self.cells.iter().any(CellEdit::is_music)
    }
}

impl CellEdit {
    /// Whether more than stems and beams changed.
    #[must_use]
    pub fn is_music(&self) -> bool {
        self.what.iter().any(|what| *what != What::Layout)
    }
}

impl Music {
    /// Share of the bars of both drafts that have a partner, from 0 to 1; 1 where there are none.
    #[must_use]
    pub fn share_matched(&self) -> f64 {
        let (mut all, mut both) = (0_u32, 0_u32);
        for bar in &self.bars {
            let sides = u32::from(bar.old.is_some()) + u32::from(bar.new.is_some());
            all += sides;
            both += if sides == 2 { 2 } else { 0 };
        }
        if all == 0 { 1.0 } else { f64::from(both) / f64::from(all) }
    }

    /// How many bars became this.
    #[must_use]
    pub fn count(&self, status: Status) -> usize {
        self.bars.iter().filter(|bar| bar.status == status).count()
    }

    /// Whether nothing at all changed in the music.
    #[must_use]
    pub fn is_same(&self) -> bool {
        let same = |part: &PartPair| {
            part.old.is_some() && part.new.is_some() && !part.renamed && !part.reordered && !part.retransposed
        };
        self.parts.iter().all(same) && self.bars.iter().all(|bar| bar.status == Status::Equal)
    }
}

/// Holds the music of two drafts against each other.
#[must_use]
pub fn music(old: &Score, new: &Score) -> Music {
    let prints = (Prints::of(old), Prints::of(new));
    let (ours, theirs) = (lines::of_score(old, &prints.0), lines::of_score(new, &prints.1));
    let matched = lines::matched(&ours, &theirs);
    let mut bars = Bars::of((old, &prints.0), (new, &prints.1), &paired(&ours, &theirs, &matched));
    let (left, right) = bars.keys();
    let found = align::drafts(&left, &right, &mut bars);
    let mut parts = part_pairs(&ours, &theirs, &matched);
    let mut pairs = bar_pairs(&found.steps, &found.moved);
    let alike = alike(&pairs, &mut bars, old.bars.len().max(new.bars.len()));
    cells::compare((old, &prints.0), (new, &prints.1), (&ours, &theirs), &mut parts, &mut pairs);
    over::compare(old, new, &mut pairs);
    for pair in &mut pairs {
        if pair.status == Status::Equal && !(pair.over.is_empty() && pair.cells.is_empty()) {
            pair.status = Status::Edited;
        }
    }
    Music { parts, bars: pairs, alike }
}

/// Of `all` bars, each as far as it is like its partner.
fn alike(pairs: &[BarPair], bars: &mut Bars<'_>, all: usize) -> f64 {
    let both = pairs.iter().filter_map(|pair| pair.old.zip(pair.new));
    let (mut silent, mut sum) = (0_u32, 0.0);
    for (old, new) in both {
        if bars.sounds(old.at()) {
            sum += bars.likeness(old.at(), new.at());
        } else {
            silent += 1;
        }
    }
    let sounding = (all as f64 - f64::from(silent)).max(0.0);
    if sounding == 0.0 { 1.0 } else { sum / sounding }
}

fn paired<'a>(old: &'a [Line], new: &'a [Line], matched: &[lines::Pair]) -> Vec<(&'a Line, &'a Line)> {
    matched.iter().filter_map(|pair| Some((old.get(pair.0?)?, new.get(pair.1?)?))).collect()
}

fn part_pairs(old: &[Line], new: &[Line], matched: &[lines::Pair]) -> Vec<PartPair> {
    let both: Vec<(usize, usize)> = {
        let mut both: Vec<_> = matched.iter().filter_map(|pair| Some((pair.0?, pair.1?))).collect();
        both.sort_unstable();
        both
    };
    let in_order = align::longest_in_order(&both);
    let pair = |pair: &lines::Pair| {
        let (one, other) = (pair.0.and_then(|at| old.get(at)), pair.1.and_then(|at| new.get(at)));
        let renamed = one.zip(other).is_some_and(|(one, other)| !one.is_named_as(other));
        let at = pair.0.zip(pair.1).and_then(|own| both.iter().position(|other| *other == own));
        let reordered = at.is_some_and(|at| in_order.get(at) == Some(&false));
        let id = |at: Option<usize>| at.and_then(|at| u16::try_from(at).ok()).map(PartId);
        PartPair { old: id(pair.0), new: id(pair.1), renamed, reordered, retransposed: false }
    };
    matched.iter().map(pair).collect()
}

/// In the order of the second draft, what was taken out where it stood.
fn bar_pairs(steps: &[Step], moved: &[(usize, usize)]) -> Vec<BarPair> {
    let idx = |at: usize| Some(BarIdx(u32::try_from(at).unwrap_or(u32::MAX)));
    let gone: BTreeSet<usize> = moved.iter().map(|(from, _)| *from).collect();
    let came = |right: usize| moved.binary_search_by_key(&right, |(_, to)| *to).ok().and_then(|at| moved.get(at));
    let pair = |step: &Step| {
        let (old, new, status) = match *step {
            Step::Both(left, right) => (idx(left), idx(right), Status::Equal),
            Step::Left(left) if gone.contains(&left) => return None,
            Step::Left(left) => (idx(left), None, Status::Deleted),
            Step::Right(right) => match came(right) {
                Some((left, _)) => (idx(*left), idx(right), Status::Moved),
                None => (None, idx(right), Status::Inserted),
            },
        };
        Some(BarPair { old, new, status, over: Vec::new(), cells: Vec::new() })
    };
    steps.iter().filter_map(pair).collect()
}
