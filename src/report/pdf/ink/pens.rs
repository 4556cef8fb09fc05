//! What was last set on a page, so that nothing is set twice.

use printpdf::{Color, Greyscale, LineCapStyle, LineDashPattern, Op, PdfFontHandle, Pt};

use super::super::fonts::FontId;
use super::super::size::{Grey, Points, written};
use super::super::style::{Cap, Stroke};
use super::super::write::font_key;

/// The graphics state as the page's operators have left it.
#[derive(Clone, Debug, Default)]
pub(in super::super) struct Pens {
    fill: Option<Grey>,
    stroke: Option<Stroke>,
    font: Option<(FontId, Points)>,
}

impl Pens {
    pub(super) fn fill_with(&mut self, ops: &mut Vec<Op>, grey: Grey) {
        if self.fill.replace(grey) != Some(grey) {
            ops.push(Op::SetFillColor { col: colour(grey) });
        }
    }

    pub(super) fn stroke_with(&mut self, ops: &mut Vec<Op>, stroke: &Stroke) {
        let before = self.stroke.replace(*stroke);
        if before.map(|before| before.grey) != Some(stroke.grey) {
            ops.push(Op::SetOutlineColor { col: colour(stroke.grey) });
        }
        if before.map(|before| before.width) != Some(stroke.width) {
            ops.push(Op::SetOutlineThickness { pt: Pt(written(Points::from_mm(stroke.width))) });
        }
        if before.map(|before| before.dash) != Some(stroke.dash) {
            let length = |mm| written(Points::from_mm(mm));
            let dash = stroke.dash.map_or_else(LineDashPattern::solid, |dash| {
                LineDashPattern::new(0.0, &[length(dash.mark), length(dash.gap)])
            });
            ops.push(Op::SetLineDashPattern { dash });
        }
        if before.map(|before| before.cap) != Some(stroke.cap) {
            let cap = match stroke.cap {
                Cap::Butt => LineCapStyle::Butt,
                Cap::Round => LineCapStyle::Round,
            };
            ops.push(Op::SetLineCapStyle { cap });
        }
    }

    pub(super) fn write_with(&mut self, ops: &mut Vec<Op>, font: FontId, size: Points) {
        if self.font.replace((font, size)) != Some((font, size)) {
            ops.push(Op::SetFont { font: PdfFontHandle::External(font_key(font)), size: Pt(written(size)) });
        }
    }

    /// The same, but the next text names its font again: the library forgets it where a saved state comes back.
    pub(super) fn without_font(self) -> Pens {
        Pens { font: None, ..self }
    }
}

fn colour(grey: Grey) -> Color {
    Color::Greyscale(Greyscale { percent: grey.lightness() as f32, icc_profile: None })
}
