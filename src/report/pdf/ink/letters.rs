//! Writing text and music glyphs.

use std::collections::BTreeSet;

use printpdf::{DictItem, Op, TextItem, TextMatrix};

use super::super::document::Document;
use super::super::fonts::{FontId, Glyph, glyphs, music_glyph, on_paper};
use super::super::size::{Grey, Point, Points, at, written};
use super::super::style::{Align, TextStyle, Turn};
use super::Ink;
use crate::units::Mm;

/// The characters drawn, by font, and those that no font has.
#[derive(Debug, Default)]
pub(in super::super) struct Letters {
    drawn: BTreeSet<(FontId, char)>,
    missing: BTreeSet<char>,
}

impl Letters {
    pub(in super::super) fn note_in(self, doc: &mut Document) {
        self.drawn.into_iter().for_each(|(font, char)| doc.note_glyph(font, char));
        self.missing.into_iter().for_each(|char| doc.note_missing(char));
    }

    fn note(&mut self, glyphs: &[Glyph]) {
        self.drawn.extend(glyphs.iter().map(|glyph| (glyph.font, glyph.char)));
        self.missing.extend(glyphs.iter().filter_map(|glyph| glyph.instead_of));
    }
}

pub(super) fn text(ink: &mut Ink<'_>, place: Point, align: Align, style: &TextStyle, text: &str) -> Mm {
    let glyphs: Vec<Glyph> = glyphs(style.face, text).collect();
    let width = on_paper(glyphs.iter().copied(), style.size);
    let begin = at(place.x - align.share(width), place.y);
    show(ink, &glyphs, style.size, style.grey, Op::SetTextCursor { pos: ink.placed(begin) });
    width
}

pub(super) fn turned_text(
    ink: &mut Ink<'_>,
    place: Point,
    turn: Turn,
    align: Align,
    style: &TextStyle,
    text: &str,
) -> Mm {
    let glyphs: Vec<Glyph> = glyphs(style.face, text).collect();
    let width = on_paper(glyphs.iter().copied(), style.size);
    let (begin, rise) = match turn {
        Turn::Up => (at(place.x, place.y + align.share(width)), 1.0),
        Turn::Down => (at(place.x, place.y - align.share(width)), -1.0),
    };
    let begin = ink.placed(begin);
    let matrix = TextMatrix::Raw([0.0, rise, -rise, 0.0, begin.x.0, begin.y.0]);
    show(ink, &glyphs, style.size, style.grey, Op::SetTextMatrix { matrix });
    width
}

pub(super) fn music(ink: &mut Ink<'_>, place: Point, staff_height: Mm, grey: Grey, glyph: char) -> Mm {
    let glyphs = [music_glyph(glyph)];
    let size = Points::from_mm(staff_height);
    show(ink, &glyphs, size, grey, Op::SetTextCursor { pos: ink.placed(place) });
    on_paper(glyphs, size)
}

/// Shows the glyphs from where `start` puts the pen; a copied text has the characters that could not be drawn.
fn show(ink: &mut Ink<'_>, glyphs: &[Glyph], size: Points, grey: Grey, start: Op) {
    if glyphs.is_empty() {
        return;
    }
    ink.letters.note(glyphs);
    ink.pens.fill_with(ink.ops, grey);
    let replaced = glyphs.iter().any(|glyph| glyph.instead_of.is_some());
    if replaced {
        ink.ops.push(meant(glyphs));
    }
    ink.ops.extend([Op::StartTextSection, start]);
    for run in glyphs.chunk_by(|one, next| (one.font, one.rise) == (next.font, next.rise)) {
        if let Some(first) = run.first() {
            ink.pens.write_with(ink.ops, first.font, size);
            let text = run.iter().map(|glyph| glyph.char).collect();
            if first.rise != 0 {
                ink.ops.push(raised(first.rise, size));
            }
            ink.ops.push(Op::ShowText { items: vec![TextItem::Text(text)] });
            if first.rise != 0 {
                ink.ops.push(raised(0, size));
            }
        }
    }
    ink.ops.push(Op::EndTextSection);
    if replaced {
        ink.ops.push(Op::EndMarkedContent);
    }
}

fn raised(rise: i16, size: Points) -> Op {
    Op::SetLineOffset { multiplier: written(Points(f64::from(rise) / 1000.0 * size.0)) }
}

/// Opens a sequence that tells the text meant, in UTF-16 with a byte order mark.
fn meant(glyphs: &[Glyph]) -> Op {
    let text: String = glyphs.iter().map(|glyph| glyph.instead_of.unwrap_or(glyph.char)).collect();
    let data = std::iter::once(0xFEFF).chain(text.encode_utf16()).flat_map(u16::to_be_bytes).collect();
    Op::BeginMarkedContentWithProperties {
        tag: "Span".to_owned(),
        properties: DictItem::Dict {
            map: [("ActualText".to_owned(), DictItem::String { data, literal: false })].into(),
        },
    }
}
