//! The paper: its edge, the shade at the fold, the margins.

use crate::geometry::{Margins, Rect};
use crate::layout::{Page, Side};
use crate::report::pdf::{Grey, Ink, Paint, Point, at};
use crate::units::Mm;

use super::super::pens;
use super::super::view::View;
use super::edges;

/// Strips of the shade, darkest at the fold; their width on the sheet.
const SHADES: [f64; 6] = [0.90, 0.925, 0.945, 0.965, 0.98, 0.99];
const SHADE: Mm = Mm(0.6);
/// Length of the marks of a margin's line, and of the gaps between them.
const DASH: Mm = Mm(0.8);
/// White between words and the line of a margin.
const WHITE: Mm = Mm(0.5);

pub fn draw(ink: &mut Ink<'_>, page: &Page, view: &View, words: &[Rect]) {
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
    if inside.width() > Mm::ZERO && inside.height() > Mm::ZERO && margins != Margins::default() {
        let edges = edges(&view.rect(&inside));
        let lines = edges.iter().flat_map(|edge| around(edge, words));
        ink.lines(&lines.flat_map(|(from, to)| dashes(from, to)).collect::<Vec<_>>(), &pens::margin());
    }
    ink.rect(paper, &Paint::stroke(pens::paper_edge()));
}

/// A line cut into marks and gaps of the same length.
fn dashes(from: Point, to: Point) -> impl Iterator<Item = (Point, Point)> {
    let (across, down) = (to.x - from.x, to.y - from.y);
    let length = across.abs().max(down.abs());
    let count = (length / (DASH * 2.0)).ceil().clamp(0.0, 2000.0) as u32;
    let place = move |along: Mm| {
        let share = (along / length).min(1.0);
        at(from.x + across * share, from.y + down * share)
    };
    (0..count).map(move |mark| {
        let start = DASH * 2.0 * f64::from(mark);
        (place(start), place(start + DASH))
    })
}

/// What is left of an upright or level line where words stand on it.
fn around(edge: &Rect, words: &[Rect]) -> Vec<(Point, Point)> {
    let is_level = edge.width() > edge.height();
    let middle = at((edge.left + edge.right) / 2.0, (edge.top + edge.bottom) / 2.0);
    let along = |rect: &Rect| if is_level { (rect.left, rect.right) } else { (rect.top, rect.bottom) };
    let place = |along: Mm| if is_level { at(along, middle.y) } else { at(middle.x, along) };
    let mut gaps: Vec<(Mm, Mm)> = words
        .iter()
        .map(|words| words.grown(WHITE))
        .filter(|words| words.overlaps(edge))
        .map(|words| along(&words))
        .collect();
    gaps.sort_unstable_by(|one, other| one.0.0.total_cmp(&other.0.0));
    let (mut from, end) = along(edge);
    let mut lines = Vec::new();
    for (gap, behind) in gaps {
        lines.push((from, gap));
        from = from.max(behind);
    }
    lines.push((from, end));
    lines.into_iter().filter(|(from, to)| from < to).map(|(from, to)| (place(from), place(to))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_margin_stops_short_of_words() {
        let edge = Rect::new(Mm(5.0), Mm(0.0), Mm(5.1), Mm(20.0));
        let word = |top: f64| Rect::new(Mm(2.0), Mm(top), Mm(8.0), Mm(top + 2.0));
        let lines = around(&edge, &[word(12.0), word(5.0)]);
        let ends: Vec<(Mm, Mm)> = lines.iter().map(|(from, to)| (from.y, to.y)).collect();
        assert_eq!(ends, [(Mm(0.0), Mm(4.5)), (Mm(7.5), Mm(11.5)), (Mm(14.5), Mm(20.0))]);
    }
}
