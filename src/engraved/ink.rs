//! What a page draws, by the library that interprets PDF content: straight lines, level and upright, in millimetres
//! from the top left corner of the page as it is shown.

use hayro_interpret::font::GlyphRun;
use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::hayro_syntax::page::Page;
use hayro_interpret::kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape};
use hayro_interpret::{
    BlendMode, ClipPath, Context, Device, DrawMode, DrawProps, Image, ImageDrawProps, InterpreterCache,
    InterpreterSettings, RenderContent, SoftMask, TransformExt, interpret_page,
};

use super::EngravedError;
use crate::units::Mm;

/// A straight line: its place across its way, and from where to where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Line {
    pub at: f64,
    pub from: f64,
    pub to: f64,
    pub thick: f64,
}

/// One page.
#[derive(Clone, Debug, Default)]
pub(super) struct Drawn {
    pub size: (Mm, Mm),
    pub horizontals: Vec<Line>,
    pub verticals: Vec<Line>,
    pub has_picture: bool,
}

const MM_PER_POINT: f64 = 25.4 / 72.0;
/// Lines lean no more than this from end to end.
const LEAN: f64 = 0.1;
/// Thicker strokes are beams and borders.
const THICKEST: f64 = 0.9;

/// All pages.
///
/// # Errors
/// The library cannot read the file.
pub(super) fn pages(bytes: &[u8]) -> Result<Vec<Drawn>, EngravedError> {
    let pdf = Pdf::new(bytes.to_vec()).map_err(|_| EngravedError::NotPdf)?;
    let cache = InterpreterCache::new();
    let settings = InterpreterSettings { render_content: RenderContent::PAGE, ..InterpreterSettings::default() };
    Ok(pdf.pages().iter().map(|page| drawn(page, &cache, &settings)).collect())
}

fn drawn<'a>(page: &Page<'a>, cache: &InterpreterCache<'a>, settings: &InterpreterSettings) -> Drawn {
    // The library knows nothing of the unit that a page may have of its own (ISO 32000-1, 8.3.2.3).
    let unit =
        page.raw().get::<f64>(b"UserUnit".as_slice()).filter(|unit| (0.01..=1000.0).contains(unit)).unwrap_or(1.0);
    let scale = unit * MM_PER_POINT;
    let (width, height) = page.render_dimensions();
    let (width, height) = (f64::from(width), f64::from(height));
    let initial = Affine::scale(scale) * page.initial_transform(true).to_kurbo();
    let area = Rect::new(0.0, 0.0, width * scale, height * scale);
    let mut context = Context::new(initial, area, cache, page.xref(), settings.clone());
    let mut pen = Pen { drawn: Drawn { size: (Mm(width * scale), Mm(height * scale)), ..Drawn::default() } };
    interpret_page(page, &mut context, &mut pen);
    pen.drawn
}

/// Notes lines down.
struct Pen {
    drawn: Drawn,
}

impl Pen {
    fn stroke(&mut self, from: Point, to: Point, thick: f64) {
        let (dx, dy) = ((to.x - from.x).abs(), (to.y - from.y).abs());
        if thick > THICKEST {
            return;
        }
        if dy <= LEAN && dx > dy {
            self.level((from.y + to.y) / 2.0, from.x.min(to.x), from.x.max(to.x), thick);
        } else if dx <= LEAN {
            self.upright((from.x + to.x) / 2.0, from.y.min(to.y), from.y.max(to.y), thick);
        }
    }

    fn level(&mut self, at: f64, from: f64, to: f64, thick: f64) {
        self.drawn.horizontals.push(Line { at, from, to, thick });
    }

    fn upright(&mut self, at: f64, from: f64, to: f64, thick: f64) {
        self.drawn.verticals.push(Line { at, from, to, thick });
    }

    /// A filled shape that is as thin as a line is one.
    fn filled(&mut self, area: Rect) {
        let (wide, high) = (area.width(), area.height());
        if high <= THICKEST && wide > high {
            self.level((area.y0 + area.y1) / 2.0, area.x0, area.x1, high);
        } else if wide <= THICKEST {
            self.upright((area.x0 + area.x1) / 2.0, area.y0, area.y1, wide);
        }
    }

    /// Each straight piece of a path.
    fn stroked(&mut self, path: &BezPath, thick: f64) {
        let (mut start, mut now) = (Point::ZERO, Point::ZERO);
        for element in path.elements() {
            match *element {
                PathEl::MoveTo(to) => (start, now) = (to, to),
                PathEl::LineTo(to) => {
                    self.stroke(now, to, thick);
                    now = to;
                }
                PathEl::QuadTo(_, to) | PathEl::CurveTo(_, _, to) => now = to,
                PathEl::ClosePath => {
                    self.stroke(now, start, thick);
                    now = start;
                }
            }
        }
    }

    /// Each shape of a path that is a quad.
    fn quads(&mut self, path: &BezPath) {
        let mut shape = BezPath::new();
        for element in path.elements().iter().chain([&PathEl::MoveTo(Point::ZERO)]) {
            if matches!(element, PathEl::MoveTo(_)) && !shape.elements().is_empty() {
                let straight =
                    !shape.elements().iter().any(|own| matches!(own, PathEl::QuadTo(..) | PathEl::CurveTo(..)));
                if straight && shape.elements().len() <= 6 {
                    self.filled(shape.bounding_box());
                }
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

impl<'a> Device<'a> for Pen {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'a>, draw_mode: &DrawMode) {
        let own = props.transform * path.clone();
        match draw_mode {
            DrawMode::Stroke(stroke) => self.stroked(&own, f64::from(stroke.line_width) * enlarges(props.transform)),
            DrawMode::Fill(_) | DrawMode::FillAndStroke(..) => self.quads(&own),
            DrawMode::Invisible => {}
        }
    }

    fn draw_image(&mut self, _: Image<'a, '_>, _: ImageDrawProps<'a>) {
        self.drawn.has_picture = true;
    }

    fn push_clip_path(&mut self, _: &ClipPath) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}
    fn draw_glyph_run(&mut self, _: &GlyphRun<'_, 'a>, _: DrawProps<'a>, _: &DrawMode) {}
    fn pop_clip(&mut self) {}
    fn pop_transparency_group(&mut self) {}
}
