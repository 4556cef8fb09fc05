//! A hand that is free to turn, and one that is not.

use crate::report::pages::style;
use crate::report::pdf::{Grey, Ink, Paint, Path, Point, at};
use crate::units::Mm;

/// Four fingers and a thumb, about three millimetres high.
pub(super) fn open(ink: &mut Ink<'_>, centre: Point) {
    let Point { x, y } = centre;
    let fingers = [-0.75, -0.25, 0.25, 0.75].map(|by| {
        let reach = if (-0.5..0.5).contains(&by) { 1.7 } else { 1.4 };
        (at(x + Mm(by), y + Mm(0.1)), at(x + Mm(by * 1.35), y - Mm(reach)))
    });
    ink.lines(&fingers, &style::THIN);
    ink.line(at(x - Mm(0.8), y + Mm(0.9)), at(x - Mm(1.5), y - Mm(0.1)), &style::THIN);
    let palm = Path::polygon(&[
        at(x - Mm(0.9), y),
        at(x + Mm(0.9), y),
        at(x + Mm(0.7), y + Mm(1.4)),
        at(x - Mm(0.7), y + Mm(1.4)),
    ]);
    ink.path(&palm, &Paint::both(Grey::WHITE, style::THIN));
}

/// Closed around its bow, black.
pub(super) fn fist(ink: &mut Ink<'_>, centre: Point) {
    let Point { x, y } = centre;
    let (left, right, top, bottom) = (x - Mm(1.2), x + Mm(1.2), y - Mm(0.9), y + Mm(1.2));
    let corner = Mm(0.4);
    let outline = Path::polygon(&[
        at(left + corner, top),
        at(right - corner, top),
        at(right, top + corner),
        at(right, bottom - corner),
        at(right - corner, bottom),
        at(left + corner, bottom),
        at(left, bottom - corner),
        at(left, top + corner),
    ]);
    ink.path(&outline, &Paint::fill(Grey::BLACK));
    // Between the fingers.
    let gaps = [-0.55, 0.0, 0.55].map(|by| (at(x + Mm(by), top), at(x + Mm(by), y + Mm(0.2))));
    ink.lines(&gaps, &style::HAIR.in_grey(Grey::WHITE));
}
