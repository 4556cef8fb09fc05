//! How far music reaches above and below its staff.
//!
//! Each bar is seen in four equal parts of its time, so that a low note at its start and a high one below it at its
//! end do not count as meeting. Sizes are realistic ink, not minimum distances.

use super::BarWidths;
use crate::place::{BarIdx, StaffId};
use crate::score::Score;
use crate::units::Spaces;

mod marks;
mod notes;
mod sketch;
mod skyline;

use skyline::Skyline;

/// Parts that a bar is divided into.
pub const PARTS: usize = 4;

/// What stands above or below a staff in one bar, from its outer lines, in spaces of that staff; at least 0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Extent {
    pub above: Spaces,
    pub below: Spaces,
}

/// A staff as it is printed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StaffSize {
    pub staff: StaffId,
    /// Against an unscaled staff.
    pub scale: f64,
    pub lines: u8,
}

/// Extents of every bar on every staff.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Extents {
    bars: usize,
    /// Staff by staff, each staff's bars in order.
    cells: Vec<Reach>,
}

/// Above and below in the parts of one bar, from the outer lines of five; negative where the ink ends inside them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Reach {
    above: [f32; PARTS],
    below: [f32; PARTS],
}

impl Extents {
    /// Measures a score.
    #[must_use]
    pub fn of(score: &Score) -> Extents {
        let widths = BarWidths::of(score);
        let mut cells = Vec::with_capacity(score.bars.len() * score.staves.len());
        let over = marks::over_staves(score);
        for at in 0..score.staves.len() {
            let staff = StaffId(at as u16);
            let mut skyline = Skyline::new(score, &widths);
            let lines = marks::Lines::of(score, staff);
            sketch::add(score, staff, &mut skyline);
            notes::add(score, staff, &lines, &mut skyline);
            marks::add(score, staff, &lines, &mut skyline);
            for mark in over.iter().filter(|(over, _)| *over == staff) {
                marks::add_over_system(mark.1, &mut skyline);
            }
            cells.extend(skyline.into_cells());
        }
        Extents { bars: score.bars.len(), cells }
    }

    fn reach(&self, bar: BarIdx, staff: StaffId) -> Reach {
        if bar.at() >= self.bars {
            return Reach::default();
        }
        self.cells.get(staff.at() * self.bars + bar.at()).copied().unwrap_or_default()
    }

    /// The whole bar's extent beside a staff of five lines.
    #[must_use]
    pub fn at(&self, bar: BarIdx, staff: StaffId) -> Extent {
        let reach = self.reach(bar, staff);
        let most = |parts: [f32; PARTS]| Spaces(f64::from(parts.into_iter().fold(0.0, f32::max)));
        Extent { above: most(reach.above), below: most(reach.below) }
    }

    /// How far each quarter of a bar reaches above the staff's top line, in unscaled spaces.
    #[must_use]
    pub fn above_in_parts(&self, bar: BarIdx, of: StaffSize) -> [Spaces; PARTS] {
        self.reach(bar, of.staff).above.map(|part| of.above(part))
    }

    /// How far each quarter of a bar reaches below the staff's bottom line, in unscaled spaces.
    #[must_use]
    pub fn below_in_parts(&self, bar: BarIdx, of: StaffSize) -> [Spaces; PARTS] {
        self.reach(bar, of.staff).below.map(|part| of.below(part))
    }

    /// What must stand between two staves in one bar where their contents come closest, in unscaled spaces.
    #[must_use]
    pub fn needed(&self, bar: BarIdx, upper: StaffSize, lower: StaffSize) -> Spaces {
        let parts = self.reach(bar, upper.staff).below.into_iter().zip(self.reach(bar, lower.staff).above);
        parts.fold(Spaces::ZERO, |most, (below, above)| most.max(upper.below(below) + lower.above(above)))
    }
}

impl StaffSize {
    /// From this staff's top line, what reaches `part` beyond the top line of five. Lines are counted from the bottom
    /// (MusicXML): the highest ones are missing where there are fewer than five.
    fn above(self, part: f32) -> Spaces {
        let missing = 5.0 - f64::from(self.lines.max(1));
        Spaces(f64::from(part) + missing).max(Spaces::ZERO) * self.scale
    }

    /// From this staff's bottom line.
    fn below(self, part: f32) -> Spaces {
        Spaces(f64::from(part)).max(Spaces::ZERO) * self.scale
    }
}

#[cfg(test)]
mod tests;
