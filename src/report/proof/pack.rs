//! The reader's pack: a sheet of each part to print and to pencil on. What the score leaves open stands first, then the
//! part in reading order, with room for two readers' initials, and what is proved already.

use super::words;
use crate::check::{Proofed, ProofedPart};
use crate::geometry::Rect;
use crate::report::blocks::{heading, list};
use crate::report::pages::frame::Frame;
use crate::report::pages::style;
use crate::report::pdf::{Block, Document, Flow, Heading, Level, Paragraph, ParagraphStyle, Region, Tag, Target};
use crate::units::Mm;
use crate::words::sentence;

mod boxes;
mod proved;
mod rows;

pub(super) fn anchor(at: usize) -> String {
    format!("read-{at}")
}

/// Draws one part's sheet; long parts take two.
pub(super) fn draw(doc: &mut Document, frame: &Frame<'_>, at: usize, part: &ProofedPart, proofed: &Proofed) {
    let section = doc.element(doc.root(), Tag::Sect);
    let area = style::content();
    let below_the_edge = Rect { top: area.top + Mm(14.0), ..area };
    let first = Region { page: frame.sheet(doc), area: below_the_edge };
    frame.bookmark(doc, &format!("To read: {}", part.player.name), Target::anchor(anchor(at)));
    let mut flow = Flow::new(doc, first, |doc| Region { page: frame.sheet(doc), area });
    flow.set(section, &head(at, part, proofed));
    let rows = rows::rows(part);
    let mut left = rows.as_slice();
    while !left.is_empty() {
        let room = flow.rest().area.height().max(area.height() / 3.0);
        let (here, after) = left.split_at(boxes::fitting(room).min(left.len()));
        flow.set(section, &[Block::Drawing(boxes::drawing(here, part))]);
        left = after;
        if !left.is_empty() {
            flow.break_page();
        }
    }
}

fn head(at: usize, part: &ProofedPart, proofed: &Proofed) -> Vec<Block> {
    let score = &proofed.score;
    let title = ParagraphStyle::new(style::TITLE).spaced(Mm::ZERO, Mm::ZERO);
    let name = format!("To read: {}", part.player.name);
    let mut blocks = vec![Block::Heading(Heading::new(Level::One, name, title).named(anchor(at)))];
    let files: Vec<String> = part.files.iter().map(|file| file.name.clone()).collect();
    blocks.push(small(format!(
        "{}. Two readers, each with their initials; the second has not seen the first one's pencil.",
        crate::words::all_listed(&files)
    )));
    let open: Vec<String> = part
        .files
        .iter()
        .flat_map(|file| &file.proof.cannot_tell)
        .map(|told| format!("{}: {}.", sentence(&score.span_label(told.bars)), told.what))
        .collect();
    if !open.is_empty() {
        blocks.push(heading("First: what the score leaves open. Ask who knows"));
        blocks.push(list(open));
    }
    blocks.push(heading("Already proved"));
    blocks.push(list(proved::lines(part)));
    blocks.push(small(format!("No program has looked at {}.", words::NOT_LOOKED_AT)));
    blocks
}

fn small(text: String) -> Block {
    Block::Paragraph(Paragraph::new(text, ParagraphStyle::new(style::SMALL).spaced(Mm(1.0), Mm(1.0))))
}
