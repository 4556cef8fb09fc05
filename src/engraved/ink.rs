//! What a page draws, by the library that interprets PDF content: straight lines, glyphs and other shapes, in
//! millimetres from the top left corner of the page as it is shown.

use std::collections::BTreeMap;

use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::hayro_syntax::page::Page;
use hayro_interpret::kurbo::{Affine, Rect};
use hayro_interpret::{Context, InterpreterCache, InterpreterSettings, RenderContent, TransformExt, interpret_page};

use super::EngravedError;
use crate::geometry;
use crate::units::Mm;

mod glyphs;
mod pen;
mod turned;

use glyphs::Known;
use pen::Pen;

/// A straight line: its place across its way, and from where to where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Line {
    pub at: f64,
    pub from: f64,
    pub to: f64,
    pub thick: f64,
}

/// One glyph: a letter, or a sign of the music.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Glyph {
    /// `None` where the font does not tell.
    pub letter: Option<char>,
    /// Which font of the file, counted in order of use.
    pub font: usize,
    /// Around its ink.
    pub rect: geometry::Rect,
    /// Where it stands on its line of text.
    pub from: (f64, f64),
    /// Where the next glyph would stand.
    pub to: (f64, f64),
    /// Size of its type.
    pub size: f64,
}

/// One page.
#[derive(Clone, Debug, Default)]
pub(super) struct Drawn {
    /// Width, height.
    pub size: (Mm, Mm),
    pub horizontals: Vec<Line>,
    pub verticals: Vec<Line>,
    pub glyphs: Vec<Glyph>,
    /// Boxes of what is neither a glyph nor a line: slurs, beams, hairpins.
    pub shapes: Vec<geometry::Rect>,
    pub has_picture: bool,
}

const MM_PER_POINT: f64 = 25.4 / 72.0;

/// All pages; those that may not be interpreted, or that `may` does not tell of, are empty.
///
/// # Errors
/// The library cannot read the file.
pub(super) fn pages(bytes: &[u8], may: &[bool]) -> Result<Vec<Drawn>, EngravedError> {
    let pdf = Pdf::new(bytes.to_vec()).map_err(|_| EngravedError::NotPdf)?;
    let cache = InterpreterCache::new();
    let settings = InterpreterSettings { render_content: RenderContent::PAGE, ..InterpreterSettings::default() };
    let mut known = Known { fonts: BTreeMap::new(), glyphs: BTreeMap::new() };
    let pages = pdf.pages().iter().zip(may.iter().chain(std::iter::repeat(&false)));
    Ok(pages.map(|(page, may)| drawn(page, *may, &cache, &settings, &mut known)).collect())
}

fn drawn<'a>(
    page: &Page<'a>,
    may: bool,
    cache: &InterpreterCache<'a>,
    settings: &InterpreterSettings,
    known: &mut Known,
) -> Drawn {
    // The library knows nothing of the unit that a page may have of its own (ISO 32000-1, 8.3.2.3).
    let unit =
        page.raw().get::<f64>(b"UserUnit".as_slice()).filter(|unit| (0.01..=1000.0).contains(unit)).unwrap_or(1.0);
    let scale = unit * MM_PER_POINT;
    let (width, height) = page.render_dimensions();
    let (width, height) = (f64::from(width) * scale, f64::from(height) * scale);
    let initial = Affine::scale(scale) * page.initial_transform(true).to_kurbo();
    let area = Rect::new(0.0, 0.0, width, height);
    let mut context = Context::new(initial, area, cache, page.xref(), settings.clone());
    let mut pen = Pen::new(Drawn { size: (Mm(width), Mm(height)), ..Drawn::default() }, known);
    if may {
        interpret_page(page, &mut context, &mut pen);
    }
    pen.drawn
}
