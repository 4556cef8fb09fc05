//! The report's fonts: which one has a character, and how wide text is.
//!
//! A character is looked for in the text face, then among the symbols (flats, sharps, naturals, arrows), then in
//! the music font. Text is composed first (NFC), for the faces hold accented letters and no loose accents.
//! Widths are those a PDF states: whole thousandths of the type size.

use std::sync::LazyLock;

use unicode_normalization::UnicodeNormalization;

use super::size::Points;
use super::style::Face;
use crate::geometry::Rect;
use crate::units::Mm;

mod file;
mod sfnt;
mod subset;

pub(super) use file::{FontFile, FontId};
pub(super) use subset::subset;

static FILES: LazyLock<[FontFile; 5]> = LazyLock::new(|| FontId::ALL.map(FontFile::load));

const ELLIPSIS: char = '\u{2026}';

/// Stands for a character that none of the fonts has.
const REPLACEMENT: char = '?';

/// The width of `text` on paper.
#[must_use]
pub fn text_width(face: Face, size: Points, text: &str) -> Mm {
    on_paper(glyphs(face, text), size)
}

/// `text`, or as much of its begin as goes into `width` together with an ellipsis; nothing when not even that does.
#[must_use]
pub fn shortened(face: Face, size: Points, text: &str, width: Mm) -> String {
    if text_width(face, size, text) <= width + Mm(0.0005) {
        return text.to_owned();
    }
    let room = (width / size.to_mm() * 1000.0 + 0.001).max(0.0) as u32;
    let mut left = match room.checked_sub(char_width(face, ELLIPSIS)) {
        Some(left) => left,
        None => return String::new(),
    };
    let begin = text.nfc().take_while(|char| {
        let rest = left.checked_sub(char_width(face, *char));
        left = rest.unwrap_or(0);
        rest.is_some()
    });
    let mut begin: String = begin.collect();
    begin.truncate(begin.trim_end().len());
    begin.push(ELLIPSIS);
    begin
}

/// Height above the baseline that no letter with its accents goes beyond.
#[must_use]
pub fn ascent(face: Face, size: Points) -> Mm {
    scaled(file(FontId::of(face)).vertical.ascent, size)
}

/// Depth below the baseline that no letter goes beyond; positive.
#[must_use]
pub fn descent(face: Face, size: Points) -> Mm {
    -scaled(file(FontId::of(face)).vertical.descent, size)
}

/// Height of capital letters.
#[must_use]
pub fn cap_height(face: Face, size: Points) -> Mm {
    scaled(file(FontId::of(face)).vertical.cap_height, size)
}

/// Height of small letters without ascender.
#[must_use]
pub fn x_height(face: Face, size: Points) -> Mm {
    scaled(file(FontId::of(face)).vertical.x_height, size)
}

/// The box that a music glyph fills beside a five-line staff of this height, from the staff's bottom line where the
/// glyph begins; y downwards, so that most of it is negative. `None` when the music font lacks the character.
#[must_use]
pub fn music_box(glyph: char, staff_height: Mm) -> Option<Rect> {
    let music = file(FontId::Music);
    let bounds = sfnt::glyph_bounds(music.bytes, music.glyph(glyph)?)?;
    let on_staff = |units: i16| staff_height * (f64::from(units) / 1000.0);
    Some(Rect::new(on_staff(bounds.left), -on_staff(bounds.top), on_staff(bounds.right), -on_staff(bounds.bottom)))
}

/// How far a music glyph advances on a staff of this height; `None` when the music font lacks the character.
#[must_use]
pub fn music_width(glyph: char, staff_height: Mm) -> Option<Mm> {
    let music = file(FontId::Music);
    Some(staff_height * (f64::from(music.width(music.glyph(glyph)?)) / 1000.0))
}

/// One character as it is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Glyph {
    pub(super) font: FontId,
    pub(super) char: char,
    /// Thousandths of the type size.
    pub(super) width: u32,
    /// Upwards from the baseline, in thousandths of the type size.
    pub(super) rise: i16,
    /// The character asked for, where [`REPLACEMENT`] stands for it.
    pub(super) instead_of: Option<char>,
}

/// The characters of `text` as they are drawn, left to right.
pub(super) fn glyphs(face: Face, text: &str) -> impl Iterator<Item = Glyph> {
    text.nfc().filter_map(drawable).map(move |char| glyph(face, char))
}

/// The width of these glyphs side by side.
pub(super) fn on_paper(glyphs: impl IntoIterator<Item = Glyph>, size: Points) -> Mm {
    let units: u64 = glyphs.into_iter().map(|glyph| u64::from(glyph.width)).sum();
    Points(units as f64 / 1000.0 * size.0).to_mm()
}

/// The width of one character of composed text in thousandths of the type size; 0 for one that is left out.
pub(super) fn char_width(face: Face, char: char) -> u32 {
    drawable(char).map_or(0, |char| glyph(face, char).width)
}

/// The one glyph of the music font, or the replacement.
pub(super) fn music_glyph(char: char) -> Glyph {
    in_font(FontId::Music, char).unwrap_or_else(|| replacement(Face::Regular, char))
}

pub(super) fn file(id: FontId) -> &'static FontFile {
    let [regular, bold, italic, symbols, music] = &*FILES;
    match id {
        FontId::Regular => regular,
        FontId::Bold => bold,
        FontId::Italic => italic,
        FontId::Symbols => symbols,
        FontId::Music => music,
    }
}

fn glyph(face: Face, char: char) -> Glyph {
    [FontId::of(face), FontId::Symbols, FontId::Music]
        .into_iter()
        .find_map(|font| in_font(font, char))
        .map(|glyph| Glyph { rise: rise(char), ..glyph })
        .unwrap_or_else(|| replacement(face, char))
}

fn in_font(font: FontId, char: char) -> Option<Glyph> {
    let id = file(font).glyph(char)?;
    Some(Glyph { font, char, width: u32::from(file(font).width(id)), rise: 0, instead_of: None })
}

/// The accidentals are drawn for a staff; beside letters they stand in the middle of the capitals' height, the flat
/// with its bowl on the baseline.
fn rise(char: char) -> i16 {
    match char {
        '\u{266D}' => 30,
        '\u{266E}' => 260,
        '\u{266F}' => 180,
        _ => 0,
    }
}

fn replacement(face: Face, char: char) -> Glyph {
    let font = FontId::of(face);
    let width = file(font).glyph(REPLACEMENT).map_or(0, |id| u32::from(file(font).width(id)));
    Glyph { font, char: REPLACEMENT, width, rise: 0, instead_of: Some(char) }
}

/// Spaces of every kind become the two the fonts have, the minus sign an en dash; what is not meant to be seen
/// (controls, joiners, hyphenation hints, variants) goes.
fn drawable(char: char) -> Option<char> {
    match char {
        '\t'
        | '\n'
        | '\r'
        | '\u{2000}'..='\u{2006}'
        | '\u{2008}'..='\u{200A}'
        | '\u{2028}'
        | '\u{2029}'
        | '\u{205F}' => Some(' '),
        '\u{2007}' | '\u{202F}' => Some('\u{A0}'),
        '\u{2212}' => Some('\u{2013}'),
        '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' => None,
        '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}' | '\u{1D173}'..='\u{1D17A}' => None,
        control if control.is_control() => None,
        other => Some(other),
    }
}

fn scaled(units: i16, size: Points) -> Mm {
    Points(f64::from(units) / 1000.0 * size.0).to_mm()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(text: &str) -> Vec<(FontId, char)> {
        glyphs(Face::Regular, text).map(|glyph| (glyph.font, glyph.char)).collect()
    }

    #[test]
    fn flats_come_from_the_symbols_and_clefs_from_the_music_font() {
        assert_eq!(
            drawn("B\u{266D} \u{1D11E}"),
            [
                (FontId::Regular, 'B'),
                (FontId::Symbols, '\u{266D}'),
                (FontId::Regular, ' '),
                (FontId::Music, '\u{1D11E}')
            ]
        );
    }

    #[test]
    fn loose_accents_meet_the_composed_letter() {
        assert_eq!(drawn("e\u{301}"), [(FontId::Regular, '\u{E9}')]);
    }

    #[test]
    fn a_character_no_font_has_is_seen_and_named() {
        let glyph = glyphs(Face::Bold, "\u{6F22}").next().unwrap();
        assert_eq!((glyph.char, glyph.instead_of), ('?', Some('\u{6F22}')));
        assert!(glyph.width > 0);
    }

    #[test]
    fn what_is_not_meant_to_be_seen_is_left_out() {
        assert_eq!(drawn("\u{FEFF}a\u{200B}\u{AD}\u{7}\tb"), drawn("a b"));
    }

    #[test]
    fn widths_are_those_of_the_font_file() {
        // Noto Sans Regular: advance of "n" 618, of "x" 529 (hmtx table).
        assert_eq!(text_width(Face::Regular, Points(1000.0), "nx"), Points(1147.0).to_mm());
        assert_eq!(text_width(Face::Regular, Points(10.0), ""), Mm::ZERO);
    }

    #[test]
    fn a_name_too_long_for_its_place_ends_in_an_ellipsis() {
        let size = Points(8.0);
        let name = "Contrabassoon in C";
        let wide = |text: &str| text_width(Face::Regular, size, text);
        assert_eq!(shortened(Face::Regular, size, name, wide(name)), name);
        assert_eq!(shortened(Face::Regular, size, name, wide("Contrabass\u{2026}")), "Contrabass\u{2026}");
        assert_eq!(shortened(Face::Regular, size, name, wide("Contrabassoon \u{2026}")), "Contrabassoon\u{2026}");
        assert_eq!(shortened(Face::Regular, size, name, Mm(0.5)), "");
    }

    #[test]
    fn heights_are_those_of_the_font_file() {
        // Noto Sans: sxHeight 536, sCapHeight 714 (OS/2 table), ascender 1069, descender -293 (hhea table).
        let size = Points(1000.0);
        assert_eq!(x_height(Face::Regular, size), Points(536.0).to_mm());
        assert_eq!(cap_height(Face::Bold, size), Points(714.0).to_mm());
        assert_eq!(ascent(Face::Regular, size), Points(1069.0).to_mm());
        assert_eq!(descent(Face::Italic, size), Points(293.0).to_mm());
    }

    #[test]
    fn the_g_clef_stands_out_above_and_below_its_staff() {
        // Noto Music: U+1D11E yMin -398, yMax 1334 of a 1000 unit staff (glyf table).
        let clef = music_box('\u{1D11E}', Mm(10.0)).unwrap().rounded();
        assert_eq!((clef.top, clef.bottom), (Mm(-13.34), Mm(3.98)));
        assert_eq!(music_box('x', Mm(10.0)), None);
        assert!(music_width('\u{1D11E}', Mm(10.0)).unwrap() > clef.width());
    }
}
