//! Glyphs: their letters, their fonts, and the boxes around their ink, each looked up once a file.

use std::collections::BTreeMap;
use std::hash::{Hash, Hasher};

use hayro_interpret::font::{Glyph as Drawn, GlyphRun, OutlineGlyph};
use hayro_interpret::hayro_cmap::BfString;
use hayro_interpret::kurbo::{Affine, Point, Rect, Shape};

use super::Glyph;
use crate::geometry;
use crate::units::Mm;

/// Units of a font's em, as the library gives outlines.
const EM: f64 = 1000.0;
/// Advance of a glyph whose font does not tell.
const USUAL_ADVANCE: f64 = 500.0;

/// What was looked up so far.
pub(super) struct Known {
    /// Font programs in order of use.
    pub fonts: BTreeMap<u128, usize>,
    /// By font program, and by glyph and character code within it.
    pub glyphs: BTreeMap<(u128, u64), Form>,
}

/// The library tells of a glyph's font program only as it is hashed: a number of 128 bits, then the glyph's.
#[derive(Default)]
struct Identity {
    program: u128,
    glyph: u64,
}

impl Hasher for Identity {
    fn write(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.glyph = self.glyph.rotate_left(8) ^ u64::from(*byte);
        }
    }

    fn write_u128(&mut self, program: u128) {
        self.program = program;
    }

    fn finish(&self) -> u64 {
        self.glyph
    }
}

fn identity(glyph: &OutlineGlyph) -> (u128, u64) {
    let mut own = Identity::default();
    glyph.identifier().hash(&mut own);
    (own.program, own.glyph ^ u64::from(glyph.char_code()).rotate_left(32))
}

/// One glyph of a font, in units of its em.
#[derive(Clone, Debug)]
pub(super) struct Form {
    letters: Vec<char>,
    font: usize,
    ink: Rect,
    advance: f64,
}

impl Known {
    /// The glyphs of a run, where `transform` takes the run's space to the page.
    pub fn placed(&mut self, run: &GlyphRun<'_, '_>, transform: Affine, into: &mut Vec<Glyph>) {
        for glyph in run.glyphs() {
            let whole = transform * glyph.transform();
            match &**glyph {
                Drawn::Outline(outline) => {
                    let key = identity(outline);
                    let next = self.fonts.len();
                    let font = *self.fonts.entry(key.0).or_insert(next);
                    self.glyphs.entry(key).or_insert_with(|| Form::of(outline, font)).place(whole, into);
                }
                // Its drawing is not followed: where it stands and how far it goes is known.
                Drawn::Type3(own) => {
                    let letters = own.as_unicode().map_or_else(Vec::new, letters);
                    let advance = own.advance_width().map_or(USUAL_ADVANCE, f64::from);
                    let ink = Rect::new(0.0, 0.0, advance, EM / 2.0);
                    Form { letters, font: usize::MAX, ink, advance }.place(whole, into);
                }
            }
        }
    }
}

fn letters(text: BfString) -> Vec<char> {
    match text {
        BfString::Char(one) => vec![one],
        BfString::String(several) => several.chars().collect(),
    }
}

impl Form {
    fn of(glyph: &OutlineGlyph, font: usize) -> Form {
        let path = glyph.outline();
        Form {
            letters: glyph.as_unicode().map_or_else(Vec::new, letters),
            font,
            ink: if path.elements().is_empty() { Rect::ZERO } else { path.bounding_box() },
            advance: glyph.advance_width().map_or(USUAL_ADVANCE, f64::from),
        }
    }

    /// A ligature is placed as its letters, side by side.
    fn place(&self, whole: Affine, into: &mut Vec<Glyph>) {
        let size = (whole * Point::new(0.0, EM) - whole * Point::ORIGIN).length();
        let count = self.letters.len().max(1);
        for at in 0..count {
            let share = |ends: (f64, f64), part: usize| ends.0 + (ends.1 - ends.0) * part as f64 / count as f64;
            let across = (self.ink.x0, self.ink.x1);
            let ink = Rect::new(share(across, at), self.ink.y0, share(across, at + 1), self.ink.y1);
            let on_line = |part: usize| whole * Point::new(share((0.0, self.advance), part), 0.0);
            let (from, to) = (on_line(at), on_line(at + 1));
            into.push(Glyph {
                letter: self.letters.get(at).copied(),
                font: self.font,
                rect: boxed(whole.transform_rect_bbox(ink)),
                from: (from.x, from.y),
                to: (to.x, to.y),
                size,
            });
        }
    }
}

pub(super) fn boxed(rect: Rect) -> geometry::Rect {
    geometry::Rect::new(Mm(rect.x0), Mm(rect.y0), Mm(rect.x1), Mm(rect.y1))
}
