//! Dividers: two slanting strokes between two systems, at the left or at both ends.

use super::ink::Drawn;
use super::{EngravedStaff, EngravedSystem};
use crate::geometry::Rect;

/// How wide and how high a stroke is, in spaces.
const SIZE: (f64, f64) = (1.0, 9.0);
/// Inside the system's ends and outside, in spaces.
const FROM_END: (f64, f64) = (5.0, 12.0);
/// The strokes of one divider are so much alike, in spaces.
const ALIKE: f64 = 0.1;
/// From the middle between the systems, as a share of the gap.
const OFF_MIDDLE: f64 = 0.3;
/// Dividers of one glyph (SMuFL).
const GLYPHS: std::ops::RangeInclusive<char> = '\u{e007}'..='\u{e009}';

/// Tells of each system whether dividers stand above it.
pub(super) fn find(systems: &mut [EngravedSystem], signs: &[Rect], drawn: &Drawn) {
    let rects: Vec<Rect> = systems.iter().map(EngravedSystem::rect).collect();
    let is_one = |letter: char| GLYPHS.contains(&letter);
    let glyphs: Vec<Rect> =
        drawn.glyphs.iter().filter(|glyph| glyph.letter.is_some_and(is_one)).map(|glyph| glyph.rect).collect();
    for (at, system) in systems.iter_mut().enumerate().skip(1) {
        let (Some(above), Some(own)) = (rects.get(at - 1), rects.get(at)) else { continue };
        let space = system.staves.first().map_or(1.0, EngravedStaff::space);
        let place = Between { above: *above, below: *own, space };
        let strokes: Vec<&Rect> = signs.iter().filter(|sign| place.has(sign) && place.is_stroke(sign)).collect();
        let pairs = strokes.iter().zip(strokes.iter().skip(1)).any(|(one, other)| place.are_pair(one, other));
        system.divider_above = Some(pairs || glyphs.iter().any(|glyph| place.has(glyph)));
    }
}

struct Between {
    above: Rect,
    below: Rect,
    space: f64,
}

impl Between {
    /// Clear of both systems, about half-way between them, near an end.
    fn has(&self, sign: &Rect) -> bool {
        let (from, to) = (self.above.bottom.0, self.below.top.0);
        let middle = f64::midpoint(sign.top.0, sign.bottom.0);
        let is_between = sign.top.0 >= from
            && sign.bottom.0 <= to
            && (middle - f64::midpoint(from, to)).abs() <= OFF_MIDDLE * (to - from);
        let across = f64::midpoint(sign.left.0, sign.right.0);
        let inside = |into: f64| -FROM_END.1 * self.space <= into && into <= FROM_END.0 * self.space;
        is_between && (inside(across - self.below.left.0) || inside(self.below.right.0 - across))
    }

    fn is_stroke(&self, sign: &Rect) -> bool {
        let fits = |length: f64| SIZE.0 * self.space <= length && length <= SIZE.1 * self.space;
        fits(sign.width().0) && fits(sign.height().0)
    }

    /// One under the other, and alike.
    fn are_pair(&self, one: &Rect, other: &Rect) -> bool {
        let same = |a: crate::units::Mm, b: crate::units::Mm| (a - b).abs().0 <= ALIKE * self.space;
        let (down, most) = ((one.top - other.top).abs().0, 3.0 * self.space);
        same(one.left, other.left)
            && same(one.width(), other.width())
            && same(one.height(), other.height())
            && 0.2 * self.space <= down
            && down <= most
    }
}
