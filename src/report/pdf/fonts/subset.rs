//! Cutting a font down to the characters a document uses.

use std::collections::BTreeSet;

use printpdf::ParsedFont;
use subsetter::GlyphRemapper;

use super::super::error::PdfError;
use super::super::write::fingerprint;
use super::{FontId, file};

/// The font `id` with nothing but `chars`, all of which it has.
///
/// # Errors
/// When the built-in font is damaged.
pub(in super::super) fn subset(id: FontId, chars: &BTreeSet<char>) -> Result<ParsedFont, PdfError> {
    let damaged = |why: &str| PdfError::Font { name: id.name(), why: why.to_owned() };
    let whole = file(id);
    let parsed = whole.parsed.as_ref().ok_or_else(|| damaged("it cannot be read"))?;
    let glyphs: BTreeSet<u16> = chars.iter().filter_map(|char| whole.glyph(*char)).collect();
    let remapper = GlyphRemapper::new_from_glyphs_sorted(&glyphs.iter().copied().collect::<Vec<_>>());
    let bytes = subsetter::subset(whole.bytes, 0, &remapper).map_err(|error| damaged(&error.to_string()))?;

    let new_glyph = |char: char| remapper.get(whole.glyph(char)?);
    Ok(ParsedFont {
        original_bytes: bytes,
        font_index: 0,
        font_name: Some(format!("{}+{}", subset_letters(chars), id.name())),
        codepoint_to_glyph: chars.iter().filter_map(|char| Some((u32::from(*char), new_glyph(*char)?))).collect(),
        glyph_widths: glyphs.iter().filter_map(|old| Some((remapper.get(*old)?, whole.width(*old)))).collect(),
        units_per_em: parsed.units_per_em,
        font_metrics: parsed.font_metrics.clone(),
        font_type: parsed.font_type,
        pdf_font_metrics: parsed.pdf_font_metrics.clone(),
    })
}

/// Six capital letters that say which characters the subset has (ISO 32000-1, 9.6.4).
fn subset_letters(chars: &BTreeSet<char>) -> String {
    let text: String = chars.iter().collect();
    let mut rest = fingerprint(&[text.as_bytes()]);
    (0..6)
        .map(|_| {
            let letter = b'A' + (rest % 26) as u8;
            rest /= 26;
            char::from(letter)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_subset_is_small_and_named_after_its_characters() {
        let chars = BTreeSet::from(['a', '\u{E9}']);
        let font = subset(FontId::Regular, &chars).unwrap();
        assert!(font.original_bytes.len() < 3000, "{}", font.original_bytes.len());
        assert_eq!(font.codepoint_to_glyph.len(), 2);
        let name = font.font_name.unwrap();
        assert!(name.ends_with("+NotoSans-Regular") && name.len() == 23, "{name}");
        assert_ne!(Some(name), subset(FontId::Regular, &BTreeSet::from(['a'])).unwrap().font_name);
    }
}
