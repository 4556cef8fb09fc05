//! Straight lines between two points, and what they run over.

use crate::geometry::Rect;
use crate::report::pdf::{Point, at};
use crate::units::Mm;

pub(super) type Segment = (Point, Point);

/// Small boxes that together cover a line, for marking what it takes.
pub(super) fn boxes(line: Segment) -> impl Iterator<Item = Rect> {
    let (from, to) = line;
    let length = (to.x - from.x).abs().max((to.y - from.y).abs());
    let steps = (length.0 / 0.5).ceil().clamp(1.0, 2000.0) as u32;
    (0..=steps).map(move |step| {
        let share = f64::from(step) / f64::from(steps);
        let (x, y) = (from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share);
        Rect::new(x, y, x, y).grown(Mm(0.05))
    })
}

/// Whether a line runs through the inside of a box (Liang and Barsky's clipping).
pub(super) fn crosses(line: Segment, rect: &Rect) -> bool {
    let (from, to) = line;
    let (dx, dy) = ((to.x - from.x).0, (to.y - from.y).0);
    let sides = [
        (-dx, (from.x - rect.left).0),
        (dx, (rect.right - from.x).0),
        (-dy, (from.y - rect.top).0),
        (dy, (rect.bottom - from.y).0),
    ];
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for (towards, distance) in sides {
        if towards == 0.0 {
            if distance <= 0.0 {
                return false;
            }
        } else if towards < 0.0 {
            enters = enters.max(distance / towards);
        } else {
            leaves = leaves.min(distance / towards);
        }
    }
    enters < leaves
}

/// Whether two lines cross each other; touching ends do not count.
pub(super) fn meet(one: Segment, other: Segment) -> bool {
    let parts = |line: Segment, other: Segment| side(line, other.0) * side(line, other.1) < 0.0;
    parts(one, other) && parts(other, one)
}

/// Which side of a line a point lies on: the sign of the area that the three span.
fn side((from, to): Segment, point: Point) -> f64 {
    let (along, beside) = (at(to.x - from.x, to.y - from.y), at(point.x - from.x, point.y - from.y));
    along.x.0 * beside.y.0 - along.y.0 * beside.x.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(x: f64, y: f64, to_x: f64, to_y: f64) -> Segment {
        (at(Mm(x), Mm(y)), at(Mm(to_x), Mm(to_y)))
    }

    #[test]
    fn a_line_past_a_box_does_not_cross_it() {
        let rect = Rect::new(Mm(2.0), Mm(2.0), Mm(4.0), Mm(4.0));
        assert!(crosses(line(0.0, 0.0, 6.0, 6.0), &rect));
        assert!(crosses(line(0.0, 3.0, 6.0, 3.0), &rect));
        assert!(!crosses(line(0.0, 5.0, 6.0, 5.0), &rect));
        assert!(!crosses(line(0.0, 3.0, 1.0, 3.0), &rect));
        assert!(!crosses(line(0.0, 2.0, 6.0, 2.0), &rect), "along its edge");
    }

    #[test]
    fn lines_that_share_an_end_do_not_cross() {
        assert!(meet(line(0.0, 0.0, 4.0, 4.0), line(0.0, 4.0, 4.0, 0.0)));
        assert!(!meet(line(0.0, 0.0, 4.0, 4.0), line(0.0, 0.0, 4.0, 0.0)));
    }
}
