//! Lines, shades and type of the maps, so that all sheets look as if drawn by one hand.

use crate::report::pages::style;
use crate::report::pdf::{Face, Grey, Points, Stroke, TextStyle};
use crate::units::Mm;

/// From baseline to baseline of the words.
pub const LEADING: Mm = Mm(3.3);
/// Type on the drawn pages: names, bar numbers, tempo words.
pub const SMALL: Points = Points(5.0);

pub fn black(width: Mm) -> Stroke {
    Stroke::new(width)
}

fn grey(width: f64, lightness: f64) -> Stroke {
    Stroke::new(Mm(width)).in_grey(Grey::new(lightness))
}

pub fn paper_edge() -> Stroke {
    grey(0.12, 0.45)
}

pub fn margin() -> Stroke {
    grey(0.08, 0.7)
}

/// Lines this far apart on the sheet; the closer they are, the lighter, so that greys between them stay visible.
pub fn staff_line(space: Mm) -> Stroke {
    grey(0.05, (1.0 - space.0 * 0.6).clamp(0.5, 0.84))
}

pub fn barline() -> Stroke {
    grey(0.1, 0.3)
}

/// The line of the box around what is marked.
pub fn outline() -> Stroke {
    black(Mm(0.14))
}

pub fn leader() -> Stroke {
    black(Mm(0.1))
}

/// Lesser lines of the drawn pages.
pub fn ink_grey() -> Grey {
    Grey::new(0.3)
}

pub fn heading() -> TextStyle {
    style::VERDICT
}

pub fn words() -> TextStyle {
    style::SMALL
}

/// Type of the legend.
pub fn tiny() -> TextStyle {
    style::TINY.in_grey(style::quiet())
}

pub fn quiet() -> TextStyle {
    words().in_grey(style::quiet())
}

pub fn small() -> TextStyle {
    TextStyle::new(Face::Regular, SMALL).in_grey(ink_grey())
}

/// The printed page number under a drawn page.
pub fn number() -> TextStyle {
    TextStyle::new(Face::Regular, Points(7.0)).in_grey(ink_grey())
}

pub fn small_bold() -> TextStyle {
    TextStyle::new(Face::Bold, SMALL)
}
