//! Notes down what the library draws.

use hayro_interpret::font::GlyphRun;
use hayro_interpret::kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape};
use hayro_interpret::{BlendMode, ClipPath, Device, DrawMode, DrawProps, Image, ImageDrawProps, Paint, SoftMask};

use super::glyphs::{Known, boxed};
use super::{Drawn, Line};

/// Lines lean no more than this from end to end.
const LEAN: f64 = 0.1;
/// Thicker strokes are beams and borders.
const THICKEST: f64 = 0.9;
/// The thick stroke of a final barline on a large staff.
const THICKEST_UPRIGHT: f64 = 1.6;
/// Ink this light is paper.
const PAPER: f32 = 0.97;
/// Beyond every page, in millimetres.
const FAR: f64 = 1e6;
/// A page with more than this is none that anybody reads; what comes later is left out.
const MOST: usize = 2_000_000;

pub(super) struct Pen<'k> {
    pub drawn: Drawn,
    known: &'k mut Known,
    /// What is shown, innermost last.
    clips: Vec<Rect>,
    /// How many of the transparency groups around are invisible.
    hidden: Vec<bool>,
}

impl<'k> Pen<'k> {
    pub fn new(drawn: Drawn, known: &'k mut Known) -> Pen<'k> {
        Pen { drawn, known, clips: Vec::new(), hidden: Vec::new() }
    }

    fn is_ink(&self, paint: &Paint<'_>) -> bool {
        let is_full = self.drawn.shapes.len() + self.drawn.horizontals.len() + self.drawn.verticals.len() > MOST
            || self.drawn.glyphs.len() > MOST;
        !is_full && !self.hidden.contains(&true) && !is_paper(paint)
    }

    fn stroke(&mut self, from: Point, to: Point, thick: f64) {
        let (dx, dy) = ((to.x - from.x).abs(), (to.y - from.y).abs());
        let area = Rect::from_points(from, to);
        let thickest = if dx > dy { THICKEST } else { THICKEST_UPRIGHT };
        if thick > thickest || (dy > LEAN && dx > LEAN) {
            self.shape(area.inflate(thick / 2.0, thick / 2.0));
        } else if dy <= LEAN && dx > dy {
            self.level((from.y + to.y) / 2.0, area.x0, area.x1, thick);
        } else {
            self.upright((from.x + to.x) / 2.0, area.y0, area.y1, thick);
        }
    }

    fn level(&mut self, at: f64, from: f64, to: f64, thick: f64) {
        let Some(seen) = self.seen(Rect::new(from, at, to, at)) else { return };
        self.drawn.horizontals.push(Line { at, from: seen.x0, to: seen.x1, thick });
    }

    fn upright(&mut self, at: f64, from: f64, to: f64, thick: f64) {
        let Some(seen) = self.seen(Rect::new(at, from, at, to)) else { return };
        self.drawn.verticals.push(Line { at, from: seen.y0, to: seen.y1, thick });
    }

    fn shape(&mut self, area: Rect) {
        if let Some(seen) = self.seen(area) {
            self.drawn.shapes.push(boxed(seen));
        }
    }

    /// What the clips leave of it.
    fn seen(&self, area: Rect) -> Option<Rect> {
        let Some(clip) = self.clips.last() else { return Some(area) };
        let (x0, y0) = (area.x0.max(clip.x0), area.y0.max(clip.y0));
        let (x1, y1) = (area.x1.min(clip.x1), area.y1.min(clip.y1));
        (x0 <= x1 && y0 <= y1).then(|| Rect::new(x0, y0, x1, y1))
    }

    /// A filled shape that is as thin as a line is one.
    fn filled(&mut self, area: Rect) {
        let (wide, high) = (area.width(), area.height());
        if high <= THICKEST && wide > high {
            self.level((area.y0 + area.y1) / 2.0, area.x0, area.x1, high);
        } else if wide <= THICKEST_UPRIGHT && high > wide {
            self.upright((area.x0 + area.x1) / 2.0, area.y0, area.y1, wide);
        } else {
            self.shape(area);
        }
    }

    /// Each straight piece of a path; what is bent as a whole.
    fn stroked(&mut self, path: &BezPath, thick: f64) {
        let (mut start, mut now) = (Point::ZERO, Point::ZERO);
        for element in path.elements() {
            match *element {
                PathEl::MoveTo(to) => (start, now) = (to, to),
                PathEl::LineTo(to) => {
                    self.stroke(now, to, thick);
                    now = to;
                }
                PathEl::QuadTo(over, to) => {
                    self.shape(Rect::from_points(now, over).union_pt(to));
                    now = to;
                }
                PathEl::CurveTo(over, under, to) => {
                    self.shape(Rect::from_points(now, over).union_pt(under).union_pt(to));
                    now = to;
                }
                PathEl::ClosePath => {
                    self.stroke(now, start, thick);
                    now = start;
                }
            }
        }
    }

    /// Each shape of a path; one that is a level quad may be a line.
    fn shapes(&mut self, path: &BezPath) {
        let mut shape = BezPath::new();
        for element in path.elements().iter().chain([&PathEl::MoveTo(Point::ZERO)]) {
            if matches!(element, PathEl::MoveTo(_)) && shape.elements().len() > 1 {
                let straight =
                    !shape.elements().iter().any(|own| matches!(own, PathEl::QuadTo(..) | PathEl::CurveTo(..)));
                let area = shape.bounding_box();
                if straight && shape.elements().len() <= 6 {
                    self.filled(area);
                } else {
                    self.shape(area);
                }
            }
            if matches!(element, PathEl::MoveTo(_)) {
                shape = BezPath::new();
            }
            shape.push(*element);
        }
    }
}

/// How much a transformation enlarges, on average.
fn enlarges(transform: Affine) -> f64 {
    transform.determinant().abs().sqrt()
}

/// White, or nothing at all: it covers and is not seen.
fn is_paper(paint: &Paint<'_>) -> bool {
    let Paint::Color(color) = paint else { return false };
    let [red, green, blue, opacity] = color.to_rgba().components();
    opacity < 1.0 - PAPER || (red > PAPER && green > PAPER && blue > PAPER)
}

impl<'a> Device<'a> for Pen<'_> {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'a>, draw_mode: &DrawMode) {
        if !self.is_ink(&props.paint) {
            return;
        }
        let own = props.transform * path.clone();
        match draw_mode {
            DrawMode::Stroke(stroke) => self.stroked(&own, f64::from(stroke.line_width) * enlarges(props.transform)),
            DrawMode::Fill(_) | DrawMode::FillAndStroke(..) => self.shapes(&own),
            DrawMode::Invisible => {}
        }
    }

    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, 'a>, props: DrawProps<'a>, mode: &DrawMode) {
        if matches!(mode, DrawMode::Invisible) || !self.is_ink(&props.paint) {
            return;
        }
        let first = self.drawn.glyphs.len();
        self.known.placed(run, props.transform, &mut self.drawn.glyphs);
        let Some(clip) = self.clips.last().map(|clip| boxed(*clip)) else { return };
        let own = self.drawn.glyphs.split_off(first);
        self.drawn.glyphs.extend(own.into_iter().filter(|glyph| glyph.rect.overlaps(&clip)));
    }

    fn draw_image(&mut self, _: Image<'a, '_>, props: ImageDrawProps<'a>) {
        self.drawn.has_picture = true;
        self.shape(props.transform.transform_rect_bbox(Rect::new(0.0, 0.0, 1.0, 1.0)));
    }

    fn push_clip_path(&mut self, clip: &ClipPath) {
        let area = clip.path.bounding_box();
        let page = Rect::new(0.0, 0.0, self.drawn.size.0.0, self.drawn.size.1.0);
        // What runs off the page is drawn all the same, and that is a fault to be told.
        let own = if self.clips.is_empty() && area.contains_rect(page.inflate(-0.5, -0.5)) {
            Rect::new(-FAR, -FAR, FAR, FAR)
        } else {
            area
        };
        let seen = self.clips.last().map_or(own, |clip| own.intersect(*clip));
        self.clips.push(seen);
    }

    fn push_transparency_group(&mut self, opacity: f32, _: Option<SoftMask<'a>>, _: BlendMode) {
        self.hidden.push(opacity < 1.0 - PAPER);
    }

    fn pop_clip(&mut self) {
        self.clips.pop();
    }

    fn pop_transparency_group(&mut self) {
        self.hidden.pop();
    }
}
