//! A page on a sheet: where its paper lies and how much smaller it is drawn.

use crate::geometry::Rect;
use crate::layout::Page;
use crate::report::pdf::{Point, at};
use crate::units::Mm;

/// Maps a page's millimetres to the sheet's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// The paper, on the sheet.
    pub paper: Rect,
    scale: Scale,
}

/// One to so many: how much smaller than life pages are drawn. At least 1, in tenths, so that it is said exactly.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Scale(f64);

impl Scale {
    /// The largest scale at which something this big fits into this room.
    #[must_use]
    pub fn fitting(size: (Mm, Mm), room: (Mm, Mm)) -> Scale {
        let needed = (size.0 / room.0).max(size.1 / room.1);
        let tenths = (needed * 10.0 - 1e-6).ceil() / 10.0;
        Scale(if tenths.is_finite() { tenths.clamp(1.0, 1000.0) } else { 1000.0 })
    }

    #[must_use]
    pub fn of(self, length: Mm) -> Mm {
        length / self.0
    }
}

impl std::fmt::Display for Scale {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.0.fract() == 0.0 { write!(f, "1 : {:.0}", self.0) } else { write!(f, "1 : {:.1}", self.0) }
    }
}

impl View {
    /// The page with its paper's top left corner at `corner`.
    #[must_use]
    pub fn new(page: &Page, corner: Point, scale: Scale) -> View {
        let (width, height) = page.size.value;
        let paper = Rect::new(corner.x, corner.y, corner.x + scale.of(width), corner.y + scale.of(height));
        View { paper, scale }
    }

    #[must_use]
    pub fn x(&self, x: Mm) -> Mm {
        self.paper.left + self.scale.of(x)
    }

    #[must_use]
    pub fn y(&self, y: Mm) -> Mm {
        self.paper.top + self.scale.of(y)
    }

    #[must_use]
    pub fn at(&self, x: Mm, y: Mm) -> Point {
        at(self.x(x), self.y(y))
    }

    #[must_use]
    pub fn rect(&self, rect: &Rect) -> Rect {
        Rect::new(self.x(rect.left), self.y(rect.top), self.x(rect.right), self.y(rect.bottom))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_is_said_exactly() {
        let scale = Scale::fitting((Mm(594.0), Mm(420.0)), (Mm(160.0), Mm(152.0)));
        assert_eq!(scale.to_string(), "1 : 3.8");
        assert_eq!(scale.of(Mm(38.0)), Mm(10.0));
    }

    #[test]
    fn nothing_is_drawn_larger_than_life() {
        assert_eq!(Scale::fitting((Mm(40.0), Mm(40.0)), (Mm(160.0), Mm(152.0))).to_string(), "1 : 1");
        assert_eq!(Scale::fitting((Mm(f64::NAN), Mm(40.0)), (Mm(0.0), Mm(152.0))).to_string(), "1 : 1");
    }
}
