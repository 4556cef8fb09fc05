//! Pages, their content and the fonts, through the page library.

use printpdf::{FontId as FontKey, PdfDocument, PdfFont, PdfPage, PdfSaveOptions};

use super::super::document::Document;
use super::super::error::PdfError;
use super::super::fonts::{FontId, subset};
use super::super::size::{PageSize, Points, written};

/// The name a font has in the pages' content.
pub(in super::super) fn font_key(font: FontId) -> FontKey {
    FontKey(
        match font {
            FontId::Regular => "Regular",
            FontId::Bold => "Bold",
            FontId::Italic => "Italic",
            FontId::Symbols => "Symbols",
            FontId::Music => "Music",
        }
        .to_owned(),
    )
}

/// A plain file: pages and fonts only, uncompressed. Takes the pages' content out of `doc`.
pub(super) fn bytes(doc: &mut Document) -> Result<Vec<u8>, PdfError> {
    let mut pdf = PdfDocument::new(&doc.meta.title);
    for (font, chars) in &doc.used {
        pdf.resources.fonts.map.insert(font_key(*font), PdfFont::new(subset(*font, chars)?));
    }
    pdf.pages = doc.pages.iter_mut().map(|page| sized(page.size, std::mem::take(&mut page.ops))).collect();
    let options = PdfSaveOptions { optimize: false, subset_fonts: false, secure: true, image_optimization: None };
    let mut warnings = Vec::new();
    let bytes = pdf.save(&options, &mut warnings);
    match warnings.into_iter().next() {
        Some(warning) => Err(PdfError::Assembly(warning.msg)),
        None => Ok(bytes),
    }
}

fn sized(size: PageSize, ops: Vec<printpdf::Op>) -> PdfPage {
    let length = |mm| printpdf::Pt(written(Points::from_mm(mm)));
    let whole = printpdf::Rect::from_wh(length(size.width), length(size.height));
    PdfPage { media_box: whole.clone(), trim_box: whole.clone(), crop_box: whole, ops }
}
