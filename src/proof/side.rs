//! The two sides of a proof: the player's line in the score, and the part.

use super::heard::{self, Heard};
use super::{Class, Difference, Line, Proof, Told};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::players::Player;
use crate::score::{Bar, Cell, Score};
use crate::units::Fraction;

/// One side; bars count from 0 on either.
pub(super) struct Side<'a> {
    pub music: &'a Score,
    /// The bar of `music` that is this side's first.
    pub first: usize,
    pub heard: Vec<Heard<'a>>,
}

impl<'a> Side<'a> {
    fn of(music: &'a Score, bars: Option<BarSpan>) -> Side<'a> {
        let (first, count) = bars.map_or((0, 0), |span| (span.first.at(), span.count() as usize));
        Side { music, first, heard: heard::bars(music, first, count) }
    }

    pub fn count(&self) -> usize {
        self.heard.len()
    }

    pub fn bar(&self, at: usize) -> Option<&'a Bar> {
        self.music.bars.get(self.first + at)
    }

    pub fn cells(&self, at: usize) -> &'a [Cell] {
        let staves = self.music.staves.len();
        let bar = self.first + at;
        self.music.cells.get(bar * staves..(bar + 1) * staves).unwrap_or_default()
    }

    pub fn is_silent(&self, at: usize) -> bool {
        self.heard.get(at).is_none_or(Heard::is_silent)
    }

    /// As the music counts its bars.
    pub fn idx(&self, at: usize) -> BarIdx {
        BarIdx(u32::try_from(self.first + at).unwrap_or(u32::MAX))
    }

    pub fn span(&self, first: usize, last: usize) -> BarSpan {
        BarSpan::new(self.idx(first), self.idx(last))
    }
}

/// Both sides with what stands around them.
pub(super) struct Both<'a> {
    pub score: &'a Score,
    pub player: &'a Player,
    pub line: Side<'a>,
    pub part: Side<'a>,
}

impl<'a> Both<'a> {
    pub fn of(line: &Line<'a>, part: &'a Score) -> Both<'a> {
        Both {
            score: line.score,
            player: line.player,
            line: Side::of(&line.player.music, Some(line.bars)),
            part: Side::of(part, part.all_bars()),
        }
    }

    /// Why a bar of the line is open, if the score leaves it open.
    pub fn open(&self, at: usize) -> Option<&'a str> {
        let bar = self.line.idx(at);
        self.player.undecided.iter().find(|open| open.bars.contains(bar)).map(|open| open.why.as_str())
    }

    /// Staves of the full score that the player shares or owns.
    pub fn own_staves(&self) -> &'a [StaffId] {
        &self.player.staves
    }
}

/// Which bars of the two belong together.
#[derive(Debug, Default)]
pub(super) struct Pairs {
    /// In order.
    pub both: Vec<(usize, usize)>,
    pub to_part: Vec<Option<usize>>,
    pub to_line: Vec<Option<usize>>,
}

impl Pairs {
    /// The bar of the line that stands for a bar of the part: its partner, or the last one before it that has one.
    pub fn line_near(&self, part: usize) -> usize {
        let before = self.to_line.get(..=part).unwrap_or(&self.to_line);
        before.iter().rev().find_map(|line| *line).unwrap_or(0)
    }
}

/// Where something was found.
#[derive(Clone, Copy)]
pub(super) struct Spot {
    pub bars: BarSpan,
    pub part_bars: Option<BarSpan>,
    pub onset: Option<Fraction>,
}

impl Both<'_> {
    /// In one pair of bars.
    pub fn pair(&self, (line, part): (usize, usize), onset: Option<Fraction>) -> Spot {
        Spot { bars: self.line.span(line, line), part_bars: Some(self.part.span(part, part)), onset }
    }
}

impl Proof {
    pub(super) fn differs(&mut self, class: Class, spot: Spot, score: impl Into<String>, part: impl Into<String>) {
        let Spot { bars, part_bars, onset } = spot;
        self.differences.push(Difference { class, bars, part_bars, onset, score: score.into(), part: part.into() });
    }

    /// Adds to a list, going on with the entry before where it says the same of the bars just before.
    pub(super) fn tell(list: &mut Vec<Told>, bars: BarSpan, what: &str) {
        match list.last_mut() {
            Some(last)
                if last.what == what && last.bars.last.0 + 1 >= bars.first.0 && last.bars.first <= bars.first =>
            {
                last.bars.last = last.bars.last.max(bars.last);
            }
            _ => list.push(Told { bars, what: what.to_owned() }),
        }
    }
}
