//! Divider marks: two slanted strokes at the left, midway between two systems.

use crate::geometry::Rect;
use crate::layout::{Page, System};
use crate::report::pdf::{Ink, Stroke, at};
use crate::units::Mm;

use super::super::view::View;

const WIDTH: Mm = Mm(2.6);
const HEIGHT: Mm = Mm(2.0);

/// The box of the divider marks above a system; `None` when there are none.
#[must_use]
pub fn divider_area(page: &Page, system: &System, view: &View) -> Option<Rect> {
    if system.divider_above != Some(true) {
        return None;
    }
    let above = page.systems.iter().take_while(|other| !std::ptr::eq(*other, system)).last()?;
    let middle = view.y((above.rect.bottom + system.rect.top) / 2.0);
    let right = view.x(system.rect.left) + WIDTH / 2.0;
    Some(Rect::new(right - WIDTH, middle - HEIGHT / 2.0, right, middle + HEIGHT / 2.0))
}

pub fn draw_divider(ink: &mut Ink<'_>, page: &Page, system: &System, view: &View) {
    let Some(area) = divider_area(page, system, view) else { return };
    let rise = area.height() * 0.45;
    for top in [area.top + rise, area.bottom] {
        ink.line(at(area.left, top), at(area.right, top - rise), &Stroke::new(Mm(0.45)));
    }
}
