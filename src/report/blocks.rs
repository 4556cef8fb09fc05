//! Blocks that the first sheets of parts and of their proof are made of.

use super::pages::style;
use super::pdf::{Block, Heading, Level, List, ListItem, Numbering, ParagraphStyle};
use crate::units::Mm;

/// Over a list or a table of the sheet.
pub fn heading(text: &str) -> Block {
    Block::Heading(Heading::new(Level::Two, text, ParagraphStyle::new(style::BODY_BOLD).spaced(Mm(3.0), Mm(1.0))))
}

/// One sentence an item.
pub fn list(items: Vec<String>) -> Block {
    Block::List(List {
        numbering: Numbering::Bullet,
        items: items.into_iter().map(ListItem::new).collect(),
        style: ParagraphStyle::new(style::BODY).spaced(Mm::ZERO, Mm(0.6)),
        hang: Mm(4.0),
        between: Mm(0.5),
    })
}
