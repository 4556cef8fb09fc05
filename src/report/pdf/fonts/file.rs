//! The font files inside the program.

use printpdf::ParsedFont;

use super::super::style::Face;
use super::sfnt;

/// One of the built-in fonts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in super::super) enum FontId {
    Regular,
    Bold,
    Italic,
    Symbols,
    Music,
}

impl FontId {
    pub(in super::super) const ALL: [FontId; 5] =
        [FontId::Regular, FontId::Bold, FontId::Italic, FontId::Symbols, FontId::Music];

    pub(in super::super) fn of(face: Face) -> FontId {
        match face {
            Face::Regular => FontId::Regular,
            Face::Bold => FontId::Bold,
            Face::Italic => FontId::Italic,
        }
    }

    /// The name it has in a PDF, before which the subset's six letters stand.
    pub(in super::super) fn name(self) -> &'static str {
        match self {
            FontId::Regular => "NotoSans-Regular",
            FontId::Bold => "NotoSans-Bold",
            FontId::Italic => "NotoSans-Italic",
            FontId::Symbols => "NotoSansSymbols-Regular",
            FontId::Music => "NotoMusic-Regular",
        }
    }

    fn bytes(self) -> &'static [u8] {
        match self {
            FontId::Regular => include_bytes!("../../../../fonts/NotoSans-Regular.ttf"),
            FontId::Bold => include_bytes!("../../../../fonts/NotoSans-Bold.ttf"),
            FontId::Italic => include_bytes!("../../../../fonts/NotoSans-Italic.ttf"),
            FontId::Symbols => include_bytes!("../../../../fonts/NotoSansSymbols-Regular.ttf"),
            FontId::Music => include_bytes!("../../../../fonts/NotoMusic-Regular.ttf"),
        }
    }
}

/// A font as read.
pub(in super::super) struct FontFile {
    pub(in super::super) bytes: &'static [u8],
    /// `None` only when the file inside the program is damaged: it then has no glyphs.
    pub(in super::super) parsed: Option<ParsedFont>,
    pub(in super::super) vertical: Vertical,
}

/// Heights in thousandths of the type size, upwards from the baseline.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in super::super) struct Vertical {
    pub(in super::super) ascent: i16,
    pub(in super::super) descent: i16,
    pub(in super::super) cap_height: i16,
    pub(in super::super) x_height: i16,
}

impl FontFile {
    pub(super) fn load(id: FontId) -> FontFile {
        let bytes = id.bytes();
        let parsed = ParsedFont::from_bytes(bytes, 0, &mut Vec::new());
        let letters = sfnt::letter_heights(bytes).unwrap_or_default();
        let vertical = Vertical {
            ascent: parsed.as_ref().map_or(0, |font| font.font_metrics.ascent),
            descent: parsed.as_ref().map_or(0, |font| font.font_metrics.descent),
            cap_height: letters.cap_height,
            x_height: letters.x_height,
        };
        FontFile { bytes, parsed, vertical }
    }

    /// The glyph's number in the file.
    pub(in super::super) fn glyph(&self, char: char) -> Option<u16> {
        self.parsed.as_ref()?.lookup_glyph_index(char.into()).filter(|glyph| *glyph != 0)
    }

    /// Advance in thousandths of the type size: all five fonts have 1000 units to the em.
    pub(in super::super) fn width(&self, glyph: u16) -> u16 {
        self.parsed.as_ref().and_then(|font| font.get_glyph_width(glyph)).unwrap_or(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_fonts_can_be_read_and_have_a_thousand_units_to_the_em() {
        for id in FontId::ALL {
            let file = FontFile::load(id);
            assert_eq!(file.parsed.unwrap().units_per_em, 1000, "{}", id.name());
            assert!(file.vertical.cap_height > 0 && file.vertical.descent < 0, "{}", id.name());
        }
    }
}
