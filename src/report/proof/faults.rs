//! What differs in one part, as its player meets it: what stops the rehearsal first.

use super::words::{self, Numbered};
use crate::check::{PartFile, Proofed, ProofedPart, Verdict};
use crate::geometry::Rect;
use crate::report::blocks::list;
use crate::report::pages::frame::Frame;
use crate::report::pages::style;
use crate::report::pdf::{
    Block, Cell, Column, Document, Flow, Heading, Level, Paragraph, ParagraphStyle, Region, Row, Table, TableStyle,
    Tag, Target,
};
use crate::units::Mm;
use crate::words::{counted, sentence};

/// Differences of one weight told one by one.
const MOST: usize = 60;
/// So many are told as lines, more in a table.
const FEW: usize = 2;
/// Of a part of another draft.
const MOST_OF_A_DRAFT: usize = 8;

/// The name of a part's differences, for links.
pub(super) fn anchor(at: usize) -> String {
    format!("differs-{at}")
}

/// Whether there is anything to tell.
pub(super) fn has_any(part: &ProofedPart) -> bool {
    let said = |file: &PartFile| {
        let own = &file.proof;
        !own.differences.is_empty() || !file.accepted.is_empty() || !own.cannot_tell.is_empty() || !own.same.is_empty()
    };
    part.files.iter().any(said) || (!part.files.is_empty() && !part.not_there.is_empty())
}

/// Draws all players' differences, one after the other.
pub(super) fn draw(doc: &mut Document, frame: &Frame<'_>, proofed: &Proofed) {
    let parts: Vec<(usize, &ProofedPart)> =
        proofed.parts.iter().enumerate().filter(|(_, part)| has_any(part)).collect();
    if parts.is_empty() {
        return;
    }
    let section = doc.element(doc.root(), Tag::Sect);
    // Names that differ in a number alone would be taken for running heads in the uppermost eighth of the sheet.
    let area = Rect { top: style::content().top + Mm(14.0), ..style::content() };
    let first = Region { page: frame.sheet(doc), area: style::content() };
    frame.bookmark(doc, "What differs", Target::anchor("differs"));
    let title = ParagraphStyle::new(style::TITLE).spaced(Mm::ZERO, Mm(1.0));
    let mut blocks =
        vec![Block::Heading(Heading::new(Level::One, "What differs, player by player", title).named("differs"))];
    blocks.push(small("Mend the part; where the part is right, mend the score.".to_owned()));
    for (at, part) in parts {
        blocks.extend(self::blocks(at, part, proofed));
    }
    Flow::new(doc, first, |doc| Region { page: frame.sheet(doc), area }).set(section, &blocks);
}

fn blocks(at: usize, part: &ProofedPart, proofed: &Proofed) -> Vec<Block> {
    let score = &proofed.score;
    let title = ParagraphStyle::new(style::HEADING).spaced(Mm(5.0), Mm::ZERO);
    let mut blocks = vec![Block::Heading(Heading::new(Level::Two, part.player.name.clone(), title).named(anchor(at)))];
    if part.verdict == Verdict::OtherDraft {
        blocks.push(small(
            "So much differs that it was made from another draft: make it anew from this score.".to_owned(),
        ));
    }
    let all: Vec<Numbered<'_>> = words::numbered(part).collect();
    match all.len() {
        0 => {}
        // Few lines read better as such.
        1..=FEW => blocks.push(list(
            all.iter().map(|(number, file, own)| format!("{number}. {}", words::told(own, file, score))).collect(),
        )),
        _ => blocks.extend(table(part, &all, proofed)),
    }
    let told = |of: fn(&PartFile) -> &Vec<crate::proof::Told>| -> Vec<String> {
        let all = part.files.iter().flat_map(of);
        all.map(|told| format!("{}: {}.", sentence(&score.span_label(told.bars)), told.what)).collect()
    };
    for (title, items) in [
        ("Cannot be told from the score", told(|file| &file.proof.cannot_tell)),
        ("Written otherwise, and the same to the player", told(|file| &file.proof.same)),
        ("Without a file", without_file(part, proofed)),
        ("Accepted earlier", accepted(part, proofed)),
    ] {
        if !items.is_empty() {
            let look = ParagraphStyle::new(style::BODY_BOLD).spaced(Mm(1.5), Mm(0.5));
            blocks.push(Block::Heading(Heading::new(Level::Three, title, look)));
            blocks.push(list(items));
        }
    }
    blocks.push(small(head(part)));
    blocks
}

fn without_file(part: &ProofedPart, proofed: &Proofed) -> Vec<String> {
    if part.files.is_empty() {
        return Vec::new();
    }
    part.not_there.iter().map(|bars| sentence(&proofed.score.span_label(*bars))).collect()
}

fn accepted(part: &ProofedPart, proofed: &Proofed) -> Vec<String> {
    let all = part.files.iter().flat_map(|file| file.accepted.iter().map(move |own| (file, own)));
    all.map(|(file, (own, entry))| {
        let told = words::told(own, file, &proofed.score);
        format!("{told} Accepted by {} on {}: {}", entry.who, entry.when, entry.why)
    })
    .collect()
}

/// The differences, what stops the rehearsal first.
fn table(part: &ProofedPart, all: &[Numbered<'_>], proofed: &Proofed) -> Vec<Block> {
    let most = if part.verdict == Verdict::OtherDraft { MOST_OF_A_DRAFT } else { MOST };
    let mut blocks = vec![Block::Table(Table {
        columns: vec![
            Column::fixed(Mm(9.0)),
            Column::share(4),
            Column::share(4),
            Column::share(3),
            Column::share(6),
            Column::share(6),
        ],
        head: vec![Row::new(["No.", "Where", "It", "What", "The score has", "The part has"])],
        body: all.iter().take(most).map(|own| row(own, proofed)).collect(),
        style: TableStyle { row_rule: Some(style::HAIR.in_grey(style::quiet())), ..TableStyle::new(style::SMALL) },
        caption: None,
    })];
    if all.len() > most {
        blocks.push(small(format!("{}; the JSON lists them.", counted(all.len() - most, "more difference"))));
    }
    blocks
}

fn head(part: &ProofedPart) -> String {
    let (bars, notes) = words::compared(part);
    let files: Vec<String> = part.files.iter().map(|file| file.name.clone()).collect();
    let (bars, notes) = (counted(bars as usize, "bar"), counted(notes as usize, "note"));
    format!("{}: {bars} and {notes} compared.", crate::words::all_listed(&files))
}

fn row((number, file, own): &Numbered<'_>, proofed: &Proofed) -> Row {
    Row::new([
        Cell::new(number.to_string()),
        Cell::head(sentence(&words::place(own, file, &proofed.score))),
        Cell::new(words::weight(own.weight())),
        Cell::new(own.class.title()),
        Cell::new(own.score.clone()),
        Cell::new(own.part.clone()),
    ])
}

fn small(text: String) -> Block {
    Block::Paragraph(Paragraph::new(text, ParagraphStyle::new(style::SMALL).spaced(Mm(1.0), Mm(1.5))))
}
