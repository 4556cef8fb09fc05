//! Type sizes, greys, places and page sizes.

use crate::units::Mm;

/// Typographic points, 1/72 inch: the size of type.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Points(pub f64);

impl Points {
    /// This length on paper.
    #[must_use]
    pub fn to_mm(self) -> Mm {
        Mm(self.0 * Mm::INCH.0 / 72.0)
    }

    /// The type size whose em is `length` high.
    #[must_use]
    pub fn from_mm(length: Mm) -> Points {
        Points(length.0 * 72.0 / Mm::INCH.0)
    }
}

/// A shade between black and white; the pages know no other colour.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Grey(f64);

impl Grey {
    pub const BLACK: Grey = Grey(0.0);
    pub const WHITE: Grey = Grey(1.0);

    /// 0 is black, 1 white; what lies beyond becomes black or white, what is no number black.
    #[must_use]
    pub fn new(lightness: f64) -> Grey {
        if lightness.is_nan() { Grey::BLACK } else { Grey((lightness.clamp(0.0, 1.0) * 1000.0).round() / 1000.0) }
    }

    pub(super) fn lightness(self) -> f64 {
        self.0
    }
}

/// A place on a page, from its top left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    pub x: Mm,
    pub y: Mm,
}

/// The place `x` from the left edge, `y` below the top edge.
#[must_use]
pub const fn at(x: Mm, y: Mm) -> Point {
    Point { x, y }
}

/// Width and height of a page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PageSize {
    pub width: Mm,
    pub height: Mm,
}

impl PageSize {
    pub const A4: PageSize = PageSize { width: Mm(210.0), height: Mm(297.0) };
}

/// A length in points as it is written: to a thousandth, never a negative zero, never infinite.
pub(super) fn written(points: Points) -> f32 {
    let rounded = (points.0.clamp(-100_000.0, 100_000.0) * 1000.0).round() / 1000.0;
    if rounded == 0.0 || rounded.is_nan() { 0.0 } else { rounded as f32 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_inch_is_seventy_two_points() {
        assert_eq!(Points(72.0).to_mm(), Mm::INCH);
        assert_eq!(Points::from_mm(Mm::INCH), Points(72.0));
    }

    #[test]
    fn a_grey_is_never_outside_black_and_white() {
        assert_eq!(Grey::new(-3.0), Grey::BLACK);
        assert_eq!(Grey::new(f64::INFINITY), Grey::WHITE);
        assert_eq!(Grey::new(f64::NAN), Grey::BLACK);
    }

    #[test]
    fn what_is_no_number_is_written_as_zero() {
        assert_eq!(written(Points(f64::NAN)), 0.0);
        assert!(written(Points(-0.0001)).is_sign_positive());
        assert_eq!(written(Points(f64::INFINITY)), 100_000.0);
    }
}
