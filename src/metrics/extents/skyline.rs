//! The outline of all that stands above and below one staff, grown outwards item by item.

use super::{PARTS, Reach};
use crate::metrics::BarWidths;
use crate::place::BarIdx;
use crate::score::Score;
use crate::units::Fraction;

/// Where nothing stands: at the far side of the staff.
const NOTHING: f32 = -4.0;

/// On which side of the staff something stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Where {
    Above,
    Below,
}

/// Neighbouring parts of bars, counted through the whole work; both ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Run {
    pub first: usize,
    pub last: usize,
}

pub(super) struct Skyline<'a> {
    score: &'a Score,
    widths: &'a BarWidths,
    above: Vec<f32>,
    below: Vec<f32>,
}

impl<'a> Skyline<'a> {
    pub fn new(score: &'a Score, widths: &'a BarWidths) -> Skyline<'a> {
        let parts = score.bars.len() * PARTS;
        Skyline { score, widths, above: vec![NOTHING; parts], below: vec![NOTHING; parts] }
    }

    /// The part of its bar that an onset falls in.
    pub fn part(&self, bar: BarIdx, onset: Fraction) -> usize {
        let length = self.score.bar(bar).map_or(0.0, |bar| bar.length.to_f64());
        let share = if length > 0.0 { onset.to_f64() / length } else { 0.0 };
        let part = (share * PARTS as f64 + 1e-9).max(0.0) as usize;
        bar.at() * PARTS + part.min(PARTS - 1)
    }

    /// The last part that something takes which ends at an onset.
    pub fn part_before(&self, bar: BarIdx, onset: Fraction) -> usize {
        let part = self.part(bar, onset);
        if onset.is_zero() { part.saturating_sub(1) } else { part }
    }

    /// All parts of a bar.
    pub fn run_of_bar(&self, bar: BarIdx) -> Run {
        Run { first: bar.at() * PARTS, last: bar.at() * PARTS + PARTS - 1 }
    }

    /// The parts that something `width` spaces wide takes from an onset on, at the bar's natural width; it may run on
    /// into the next bars.
    pub fn run(&self, bar: BarIdx, onset: Fraction, width: f32) -> Run {
        let first = self.part(bar, onset);
        let part_width = self.widths.of_bar(bar).0 as f32 / PARTS as f32;
        let further = (width / part_width.max(0.5)) as usize;
        Run { first, last: (first + further).min(self.above.len().saturating_sub(1)) }
    }

    fn side(&mut self, side: Where) -> &mut [f32] {
        match side {
            Where::Above => &mut self.above,
            Where::Below => &mut self.below,
        }
    }

    /// Something fixed reaches `to` spaces beyond the outer line.
    pub fn reach(&mut self, side: Where, part: usize, to: f32) {
        if let Some(own) = self.side(side).get_mut(part) {
            *own = own.max(to);
        }
    }

    /// Something `height` spaces high is set outside of all that stands in these parts, and level.
    pub fn stack(&mut self, side: Where, run: Run, height: f32) {
        self.stack_row(side, &[(run, height)]);
    }

    /// Things that stand side by side in one row ("p", a hairpin, "espress."), each outside of what stands there.
    pub fn stack_row(&mut self, side: Where, row: &[(Run, f32)]) {
        let parts = self.side(side);
        let outside = |(run, height): &(Run, f32)| {
            let taken = parts.get(run.first..=run.last).unwrap_or_default().iter().copied();
            taken.fold(0.0, f32::max) + height
        };
        let heights: Vec<f32> = row.iter().map(outside).collect();
        for ((run, _), height) in row.iter().zip(heights) {
            for part in parts.get_mut(run.first..=run.last).unwrap_or_default() {
                *part = part.max(height);
            }
        }
    }

    pub fn into_cells(self) -> impl Iterator<Item = Reach> {
        let cell = |(above, below): (&[f32], &[f32])| {
            let mut reach = Reach::default();
            reach.above.copy_from_slice(above);
            reach.below.copy_from_slice(below);
            reach
        };
        let cells: Vec<Reach> = self.above.chunks_exact(PARTS).zip(self.below.chunks_exact(PARTS)).map(cell).collect();
        cells.into_iter()
    }
}
