//! Sounding bars in four greys: how much there is to read, against the rest of the same work.

use crate::geometry::Rect;
use crate::layout::System;
use crate::place::{BarSpan, StaffId};
use crate::report::pdf::Ink;
use crate::survey::{CellDensity, Density};

use super::super::view::View;
use super::super::{Subject, pens};

/// How far the tint reaches beyond the outer lines, against the staff's height: there no line hides it.
const BEYOND: f64 = 0.2;

/// Values between the four greys: a quarter of all sounding bars of all staves lies in each.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Quarters([f32; 3]);

impl Quarters {
    #[must_use]
    pub fn of(density: &Density) -> Quarters {
        let mut values: Vec<f32> = density.cells.iter().filter_map(|cell| cell.per_100_spaces).collect();
        values.sort_unstable_by(f32::total_cmp);
        let at = |quarter: usize| values.get(values.len() * quarter / 4).copied().unwrap_or_default();
        Quarters([at(1), at(2), at(3)])
    }

    /// The grey of a value, from 0 (little) to 3 (much).
    fn class(&self, value: f32) -> usize {
        self.0.iter().filter(|limit| value > **limit).count()
    }
}

pub fn draw(ink: &mut Ink<'_>, subject: &Subject<'_>, system: &System, view: &View) {
    for staff in &system.staves {
        let Some(id) = staff.staff else { continue };
        for bar in &system.bars {
            let Some(cell) = bar.bars.and_then(|bars| densest(&subject.survey.density, bars, id)) else { continue };
            let class = cell.per_100_spaces.map_or(0, |value| subject.quarters.class(value));
            let beyond = staff.height * BEYOND;
            let area = Rect::new(bar.left, staff.top - beyond, bar.right, staff.top + staff.height + beyond);
            ink.rect(view.rect(&area), &pens::tint(class));
        }
    }
}

/// The fullest of some bars; `None` when all are silent.
fn densest(density: &Density, bars: BarSpan, staff: StaffId) -> Option<CellDensity> {
    let sounding = bars.iter().map(|bar| density.cell(bar, staff)).filter(|cell| cell.sounds);
    let value = |cell: &CellDensity| cell.per_100_spaces.unwrap_or_default();
    sounding.max_by(|one, other| value(one).total_cmp(&value(other)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quarter_of_the_sounding_bars_has_each_grey() {
        let cell = |value: u8| CellDensity { symbols: 0.0, per_100_spaces: Some(f32::from(value)), sounds: true };
        let silent = CellDensity::default();
        let cells = (1..=40).map(cell).chain([silent; 9]).collect();
        let quarters = Quarters::of(&Density { staves: 1, cells });
        let count = |class| (1..=40).filter(|value| quarters.class(*value as f32) == class).count();
        assert_eq!([count(0), count(1), count(2), count(3)], [11, 10, 10, 9]);
    }

    #[test]
    fn a_work_without_notes_has_quarters_all_the_same() {
        assert_eq!(Quarters::of(&Density::default()), Quarters::default());
    }
}
