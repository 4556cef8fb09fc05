//! What a score asks of its spacing, whatever the rules.
//!
//! Rules are fitted by trying many; the notes are read only once.

use std::ops::Range;

use super::Column;
use super::item::Item;
use super::read::Reader;
use super::signs::Signs;
use crate::place::BarIdx;
use crate::score::Score;
use crate::units::{Fraction, Spaces};

/// A score read for spacing: hand it to [`Spacing::from_material`](super::Spacing::from_material) with any rules.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Material {
    pub(super) bars: Vec<BarMaterial>,
    pub(super) moments: Vec<Moment>,
    pub(super) neighbours: Vec<Neighbours>,
    /// What stands just after barlines.
    pub(super) openings: Vec<Item>,
    pub(super) words: Vec<Words>,
}

/// One bar: its signs, and its share of the lists.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct BarMaterial {
    pub signs: Signs,
    pub content: Content,
    pub neighbours: Range<usize>,
    pub openings: Range<usize>,
    pub words: Range<usize>,
}

/// What fills a bar.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) enum Content {
    /// Notes and rests: these moments.
    Moments(Range<usize>),
    /// Nothing with a moment of its own, for so long.
    Empty(Fraction),
    /// What an outline plans, and the room that no force changes.
    Planned(Column, Spaces),
    MultiBarRest,
    /// Inside a multi-bar rest, which its first bar holds.
    #[default]
    Nothing,
}

/// A moment at which something begins on any staff. Lengths are in quarters.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Moment {
    /// To the next moment, or to the bar's end.
    pub gap: f64,
    /// The shortest that sounds through the gap.
    pub shortest: f64,
}

/// Two things side by side on one staff, of which the first stands in this column of its bar and the second in the
/// next; at the bar's end there may be nothing more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Neighbours {
    pub column: usize,
    pub this: Item,
    pub next: Option<Item>,
}

/// Two syllables of one staff: from column to column of their bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Words {
    pub columns: (usize, usize),
    /// Half of each syllable, set in type one space high.
    pub width: Spaces,
}

impl Material {
    /// Reads a score. Takes time in proportion to its notes.
    #[must_use]
    pub fn of(score: &Score) -> Material {
        let mut material = Material::default();
        let mut reader = Reader::new(score);
        let mut begins = vec![false; score.bars.len()];
        for movement in &score.movements {
            if let Some(begins) = begins.get_mut(movement.bars.first.at()) {
                *begins = true;
            }
        }
        let mut rests_on = 0;
        for (at, bar) in score.bars.iter().enumerate() {
            if rests_on > 0 {
                rests_on -= 1;
                material.bars.push(BarMaterial::default());
                continue;
            }
            let begins_movement = begins.get(at).copied().unwrap_or(false);
            let next_begins = begins.get(at + 1).copied().unwrap_or(true);
            let idx = BarIdx(at as u32);
            let signs = Signs::of(bar, super::read::cells(score, idx), begins_movement);
            let own = match bar.multi_bar_rest.filter(|bars| *bars > 1) {
                Some(bars) => {
                    rests_on = bars - 1;
                    BarMaterial { content: Content::MultiBarRest, ..BarMaterial::default() }
                }
                None => reader.read(idx, next_begins, &mut material),
            };
            material.bars.push(BarMaterial { signs, ..own });
        }
        material
    }
}
