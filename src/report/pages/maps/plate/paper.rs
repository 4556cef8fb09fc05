//! The paper: its edge, the shade at the fold, the margins.

use crate::geometry::Rect;
use crate::layout::{Page, Side};
use crate::report::pdf::{Grey, Ink, Paint};
use crate::units::Mm;

use super::super::pens;
use super::super::view::View;

/// Strips of the shade, darkest at the fold; their width on the sheet.
const SHADES: [f64; 6] = [0.90, 0.925, 0.945, 0.965, 0.98, 0.99];
const SHADE: Mm = Mm(0.6);

pub fn draw(ink: &mut Ink<'_>, page: &Page, view: &View) {
    let paper = view.paper;
    for (strip, lightness) in SHADES.into_iter().enumerate() {
        let (near, far) = (SHADE * strip as f64, SHADE * (strip + 1) as f64);
        let (left, right) = match page.side {
            Side::Verso => (paper.right - far, paper.right - near),
            Side::Recto => (paper.left + near, paper.left + far),
        };
        ink.rect(Rect::new(left, paper.top, right, paper.bottom), &Paint::fill(Grey::new(lightness)));
    }
    let (width, height) = page.size.value;
    let margins = page.margins.value;
    let inside = Rect::new(margins.left, margins.top, width - margins.right, height - margins.bottom);
    if inside.width() > Mm::ZERO && inside.height() > Mm::ZERO && margins != crate::geometry::Margins::default() {
        ink.rect(view.rect(&inside), &Paint::stroke(pens::margin()));
    }
    ink.rect(paper, &Paint::stroke(pens::paper_edge()));
}
