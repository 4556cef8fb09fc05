//! Setting wrapped lines onto a page, links and all.

use super::super::canvas::Canvas;
use super::super::fonts::{ascent, descent};
use super::super::ink::Ink;
use super::super::size::at;
use super::super::structure::Elem;
use super::super::style::{Align, TextStyle};
use super::text::{Piece, Text};
use super::wrap::{Run, SetLine};
use crate::geometry::Rect;
use crate::units::Mm;

/// How lines stand below each other.
#[derive(Clone, Copy, Debug)]
pub(super) struct Setting {
    pub(super) style: TextStyle,
    /// From baseline to baseline.
    pub(super) line: Mm,
    pub(super) align: Align,
}

impl Setting {
    /// From the top of a line's share of the page to its baseline.
    fn baseline(&self) -> Mm {
        let (up, down) = (ascent(self.style.face, self.style.size), descent(self.style.face, self.style.size));
        (self.line - up - down) / 2.0 + up
    }
}

/// Sets the lines of an element from the top of `area`; they may go beyond its bottom.
pub(super) fn set_lines(
    canvas: &mut Canvas<'_>,
    elem: Elem,
    text: &Text,
    lines: &[SetLine],
    setting: &Setting,
    area: Rect,
) {
    let mut placed = Vec::new();
    let mut baseline = area.top + setting.baseline();
    for line in lines {
        let left = area.left + setting.align.share(area.width() - line.width);
        placed.extend(line.runs.iter().map(|run| Placed { run, left: left + run.x, baseline }));
        baseline += setting.line;
    }
    let link_of = |placed: &Placed<'_>| text.pieces.get(placed.run.piece).and_then(|piece: &Piece| piece.link.as_ref());
    for runs in placed.chunk_by(|one, next| link_of(one).is_none() && link_of(next).is_none()) {
        match runs.first().and_then(|first| Some((first, link_of(first)?))) {
            Some((first, (target, says))) => {
                canvas.link(elem, first.area(setting), target, says, |ink| show(ink, runs, setting));
            }
            None => canvas.tagged(elem, |ink| show(ink, runs, setting)),
        }
    }
}

#[derive(Debug)]
struct Placed<'r> {
    run: &'r Run,
    left: Mm,
    baseline: Mm,
}

impl Placed<'_> {
    fn area(&self, setting: &Setting) -> Rect {
        let top = self.baseline - setting.baseline();
        Rect::new(self.left, top, self.left + self.run.width, top + setting.line)
    }
}

fn show(ink: &mut Ink<'_>, runs: &[Placed<'_>], setting: &Setting) {
    for placed in runs {
        let style = setting.style.in_face(placed.run.face);
        ink.text(at(placed.left, placed.baseline), Align::Left, &style, &placed.run.text);
    }
}
