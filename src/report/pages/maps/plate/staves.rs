//! Staves as their real lines.

use crate::layout::{PrintedStaff, System};
use crate::report::pdf::Ink;
use crate::units::Mm;

use super::super::pens;
use super::super::view::View;

pub fn draw(ink: &mut Ink<'_>, system: &System, view: &View) {
    for staff in &system.staves {
        let pen = pens::staff_line(view.y(staff.height) / 4.0 - view.y(Mm::ZERO) / 4.0);
        let line = |y: Mm| (view.at(system.rect.left, y), view.at(system.rect.right, y));
        ink.lines(&lines(staff).into_iter().map(line).collect::<Vec<_>>(), &pen);
    }
}

/// Heights of a staff's lines. A single line stands where the middle one would.
fn lines(staff: &PrintedStaff) -> Vec<Mm> {
    match staff.lines {
        0 => Vec::new(),
        1 => vec![staff.top + staff.height / 2.0],
        count => {
            let count = count.min(12);
            let space = staff.height / f64::from(count - 1);
            (0..count).map(|line| staff.top + space * f64::from(line)).collect()
        }
    }
}
