//! Sounding bars in four greys: how much there is to read, against the rest of the same work.

use crate::geometry::Rect;
use crate::layout::System;
use crate::place::{BarSpan, StaffId};
use crate::report::pages::greys;
use crate::report::pdf::Ink;
use crate::survey::{CellDensity, Density};

use super::super::Subject;
use super::super::view::View;

/// How far the tint reaches beyond the outer lines, against the staff's height: there no line hides it.
const BEYOND: f64 = 0.2;

pub fn draw(ink: &mut Ink<'_>, subject: &Subject<'_>, system: &System, view: &View) {
    for staff in &system.staves {
        let Some(id) = staff.staff else { continue };
        for bar in &system.bars {
            let Some(cell) = bar.bars.and_then(|bars| densest(&subject.survey.density, bars, id)) else { continue };
            let class = cell.per_100_spaces.map_or(0, |value| subject.quarters.class(value));
            let beyond = staff.height * BEYOND;
            let area = Rect::new(bar.left, staff.top - beyond, bar.right, staff.top + staff.height + beyond);
            ink.rect(view.rect(&area), &greys::tint(class));
        }
    }
}

/// The fullest of some bars; `None` when all are silent.
fn densest(density: &Density, bars: BarSpan, staff: StaffId) -> Option<CellDensity> {
    let sounding = bars.iter().map(|bar| density.cell(bar, staff)).filter(|cell| cell.sounds);
    let value = |cell: &CellDensity| cell.per_100_spaces.unwrap_or_default();
    sounding.max_by(|one, other| value(one).total_cmp(&value(other)))
}
