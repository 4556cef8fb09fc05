//! Barlines, run through the staves that belong together.

use crate::layout::{PrintedBar, System};
use crate::report::pdf::{Ink, Paint, Point, Stroke, at};
use crate::score::{Barline, Score};
use crate::units::Mm;

use super::super::pens;
use super::super::view::View;
use super::brackets;

/// What a barline is made of, from its left to its right.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Look {
    /// Dots before the line: a repeat ends.
    dots_before: bool,
    /// Dots after the line: a repeat begins.
    dots_after: bool,
    double: bool,
    heavy: bool,
}

/// Distances on the sheet: enough to be told apart at the size of a map.
const APART: Mm = Mm(0.5);
const DOTS: Mm = Mm(0.55);

pub fn draw(ink: &mut Ink<'_>, score: &Score, system: &System, view: &View) {
    let rect = view.rect(&system.rect);
    let mut strokes =
        Strokes { light: vec![(at(rect.left, rect.top), at(rect.left, rect.bottom))], ..Strokes::default() };
    let runs = runs(score, system, view);
    let begins = begin(score, system.bars.first()).filter(|left| left.repeat);
    if let Some(bar) = system.bars.first().filter(|_| begins.is_some()) {
        let look = Look { dots_after: true, heavy: true, ..Look::default() };
        strokes.barline(&runs, view.x(bar.left), look);
        dots(ink, system, view, view.x(bar.left), look);
    }
    for (at, bar) in system.bars.iter().enumerate() {
        let right = bar.bars.and_then(|bars| score.bar(bars.last)).map(|bar| bar.right).unwrap_or_default();
        let next = begin(score, system.bars.get(at + 1)).unwrap_or_default();
        let look = Look {
            dots_before: right.repeat,
            dots_after: next.repeat,
            double: right.is_double || next.is_double,
            heavy: right.is_final || right.repeat || next.repeat,
        };
        strokes.barline(&runs, view.x(bar.right), look);
        dots(ink, system, view, view.x(bar.right), look);
    }
    ink.lines(&strokes.light, &pens::barline());
    ink.lines(&strokes.heavy, &Stroke::new(Mm(0.35)).in_grey(pens::ink_grey()));
}

/// The barlines of a system, gathered.
#[derive(Default)]
struct Strokes {
    light: Vec<(Point, Point)>,
    heavy: Vec<(Point, Point)>,
}

fn begin(score: &Score, bar: Option<&PrintedBar>) -> Option<Barline> {
    Some(score.bar(bar?.bars?.first)?.left)
}

/// Top and bottom of each unbroken stretch of barline.
fn runs(score: &Score, system: &System, view: &View) -> Vec<(Mm, Mm)> {
    let mut runs: Vec<(Mm, Mm)> = Vec::new();
    for (at, staff) in system.staves.iter().enumerate() {
        let (top, bottom) = (view.y(staff.top), view.y(staff.top + staff.height));
        let goes_on = at.checked_sub(1).is_some_and(|above| brackets::joined(score, system, above));
        match runs.last_mut() {
            Some(run) if goes_on => run.1 = bottom,
            _ => runs.push((top, bottom)),
        }
    }
    runs
}

impl Strokes {
    fn barline(&mut self, runs: &[(Mm, Mm)], x: Mm, look: Look) {
        let upright = |x: Mm| runs.iter().map(move |(top, bottom)| (at(x, *top), at(x, *bottom)));
        match (look.heavy, look.double) {
            (true, _) => {
                let side = if look.dots_after && !look.dots_before { 1.0 } else { -1.0 };
                self.heavy.extend(upright(x + Mm(0.17) * side));
                self.light.extend(upright(x + (Mm(0.17) + APART) * side));
            }
            (false, true) => {
                self.light.extend(upright(x));
                self.light.extend(upright(x - APART));
            }
            (false, false) => self.light.extend(upright(x)),
        }
    }
}

fn dots(ink: &mut Ink<'_>, system: &System, view: &View, x: Mm, look: Look) {
    let sides = [(look.dots_before, -(APART + DOTS + Mm(0.1))), (look.dots_after, APART + DOTS + Mm(0.1))];
    for (_, side) in sides.into_iter().filter(|(there, _)| *there) {
        for staff in &system.staves {
            for share in [0.375, 0.625] {
                let y = view.y(staff.top + staff.height * share);
                ink.circle(at(x + side, y), Mm(0.16), &Paint::fill(pens::ink_grey()));
            }
        }
    }
}
