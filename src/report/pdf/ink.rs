//! Drawing: lines, areas, text and music glyphs in black and grey.

use printpdf::{LinePoint, Op, PaintMode, Polygon, PolygonRing, Pt, WindingOrder};

use super::document::Page;
use super::path::{Ends, Outline, Path, Step};
use super::size::{Grey, PageSize, Point, Points, at, written};
use super::style::{Align, Paint, Stroke, TextStyle, Turn};
use crate::geometry::Rect;
use crate::units::Mm;

mod letters;
mod pens;

pub(super) use letters::Letters;
pub(super) use pens::Pens;

/// Draws marks on a page. Lent out by a [`Canvas`](super::Canvas).
#[derive(Debug)]
pub struct Ink<'p> {
    size: PageSize,
    ops: &'p mut Vec<Op>,
    pens: &'p mut Pens,
    letters: Letters,
}

impl<'p> Ink<'p> {
    pub(super) fn on(page: &'p mut Page) -> Ink<'p> {
        Ink { size: page.size, ops: &mut page.ops, pens: &mut page.pens, letters: Letters::default() }
    }

    pub(super) fn into_letters(self) -> Letters {
        self.letters
    }

    /// Many straight lines as one drawn thing: to those who read a page by its lines they are one picture, no grid.
    /// Dashes would be drawn twice, from either end, and are left out.
    pub fn lines(&mut self, lines: &[(Point, Point)], stroke: &Stroke) {
        let path = lines.iter().fold(Path::default(), |path, (from, to)| path.and_from(*from).line(*to));
        self.pens.stroke_with(self.ops, &Stroke { dash: None, ..*stroke });
        self.paint(&path, PaintMode::Stroke);
    }

    pub fn line(&mut self, from: Point, to: Point, stroke: &Stroke) {
        self.path(&Path::from(from).line(to), &Paint::stroke(*stroke));
    }

    pub fn rect(&mut self, area: Rect, paint: &Paint) {
        self.path(&Path::rect(area), paint);
    }

    pub fn polygon(&mut self, corners: &[Point], paint: &Paint) {
        self.path(&Path::polygon(corners), paint);
    }

    pub fn circle(&mut self, centre: Point, radius: Mm, paint: &Paint) {
        self.path(&Path::circle(centre, radius), paint);
    }

    /// The area between two circles.
    pub fn ring(&mut self, centre: Point, outer: Mm, inner: Mm, grey: Grey) {
        self.path(&Path::circle(centre, outer).and_circle(centre, inner), &Paint::fill(grey));
    }

    /// Slanted lines, rising to the right, `gap` apart along the horizontal, that end at the edges of `area`; farther
    /// apart where that would be more than a thousand lines, and none when `gap` is not above zero.
    pub fn hatch(&mut self, area: Rect, gap: Mm, stroke: &Stroke) {
        let (width, height) = (area.width(), area.height());
        if !(gap > Mm::ZERO && width > Mm::ZERO && height > Mm::ZERO) {
            return;
        }
        let gap = gap.max((width + height) / 1000.0);
        let lines = ((width + height) / gap).ceil() as u32;
        let mut path = Path::default();
        for line in 1..lines {
            // A line x + y = reach, both counted from the area's top left corner.
            let reach = gap * f64::from(line);
            let low = reach.min(height);
            let high = (reach - width).max(Mm::ZERO);
            path = path
                .and_from(at(area.left + reach - low, area.top + low))
                .line(at(area.left + reach - high, area.top + high));
        }
        self.path(&path, &Paint::stroke(*stroke));
    }

    /// Fills and outlines a path; where its outlines overlap, inside and outside alternate.
    pub fn path(&mut self, path: &Path, paint: &Paint) {
        if let Some(grey) = paint.fill {
            self.pens.fill_with(self.ops, grey);
            self.paint(path, PaintMode::Fill);
        }
        if let Some(stroke) = &paint.stroke {
            self.pens.stroke_with(self.ops, stroke);
            self.outlines(path);
        }
    }

    /// Draws only what falls inside `area`.
    pub fn clipped<R>(&mut self, area: Rect, draw: impl FnOnce(&mut Ink<'_>) -> R) -> R {
        let outside = self.pens.clone();
        self.ops.push(Op::SaveGraphicsState);
        self.paint(&Path::rect(area), PaintMode::Clip);
        let result = draw(self);
        self.ops.push(Op::RestoreGraphicsState);
        *self.pens = outside.without_font();
        result
    }

    /// One line of text on the baseline through `place`; `align` says which of its points stands there.
    /// Gives back its width.
    pub fn text(&mut self, place: Point, align: Align, style: &TextStyle, text: &str) -> Mm {
        letters::text(self, place, align, style, text)
    }

    /// Text turned by a right angle; `align` counts along the way it is read.
    pub fn turned_text(&mut self, place: Point, turn: Turn, align: Align, style: &TextStyle, text: &str) -> Mm {
        letters::turned_text(self, place, turn, align, style, text)
    }

    /// A glyph of the music font; `place` is where it begins on the bottom line of a five-line staff this high.
    /// Gives back how far it advances.
    pub fn music(&mut self, place: Point, staff_height: Mm, grey: Grey, glyph: char) -> Mm {
        letters::music(self, place, staff_height, grey, glyph)
    }

    fn paint(&mut self, path: &Path, mode: PaintMode) {
        let rings: Vec<PolygonRing> =
            path.outlines.iter().map(|outline| PolygonRing { points: self.closed_points(outline) }).collect();
        if !rings.is_empty() {
            let polygon = Polygon { rings, mode, winding_order: WindingOrder::EvenOdd };
            self.ops.push(Op::DrawPolygon { polygon });
        }
    }

    fn outlines(&mut self, path: &Path) {
        for outline in &path.outlines {
            let line = printpdf::Line { points: self.points(outline), is_closed: outline.ends == Ends::Closed };
            self.ops.push(Op::DrawLine { line });
        }
    }

    /// The library closes only the last outline of an area, so that each must come back to its begin by itself.
    fn closed_points(&self, outline: &Outline) -> Vec<LinePoint> {
        let mut points = self.points(outline);
        points.push(LinePoint { p: self.placed(outline.start), bezier: false });
        points
    }

    fn points(&self, outline: &Outline) -> Vec<LinePoint> {
        let point = |place: Point, bezier: bool| LinePoint { p: self.placed(place), bezier };
        let mut points = vec![point(outline.start, false)];
        for step in &outline.steps {
            match *step {
                Step::Line(end) => points.push(point(end, false)),
                Step::Curve(leaving, arriving, end) => {
                    points.extend([point(leaving, true), point(arriving, true), point(end, false)]);
                }
            }
        }
        points
    }

    /// The place as PDF counts it: from the bottom left corner.
    fn placed(&self, place: Point) -> printpdf::Point {
        let length = |mm: Mm| Pt(written(Points::from_mm(mm)));
        printpdf::Point { x: length(place.x), y: length(self.size.height - place.y) }
    }
}
