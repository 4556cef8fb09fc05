//! The roles a structure element can have.

use super::structure::Elem;
use crate::geometry::Rect;

/// What a structure element is, in the words of ISO 32000-1, 14.8.4.
#[derive(Clone, Debug, PartialEq)]
pub enum Tag {
    Part,
    Sect,
    Div,
    H1,
    H2,
    H3,
    P,
    Span,
    /// A list; its children are [`Tag::Li`], before them perhaps a caption.
    L(Numbering),
    Li,
    /// Bullet, number or other label of a list item.
    Lbl,
    LBody,
    /// A table; its children are rows, or [`Tag::THead`] and [`Tag::TBody`].
    Table,
    THead,
    TBody,
    Tr,
    Th {
        scope: Scope,
        /// Columns covered, at least 1.
        columns: u16,
    },
    Td {
        /// Columns covered, at least 1.
        columns: u16,
        /// Header cells beyond those that row and column give.
        headers: Vec<Elem>,
    },
    /// A picture: `alt` says in words what it shows, `area` is the box it fills on its (first) page.
    Figure {
        alt: String,
        area: Rect,
    },
    Caption,
    /// A footnote or remark apart from the text.
    Note,
    /// A reference to another place; holds the link.
    Reference,
    /// Made by [`Canvas::link`](super::Canvas::link).
    Link,
    Toc,
    /// An entry of a table of contents; its links stand in a [`Tag::Reference`].
    Toci,
}

impl Tag {
    /// A header cell over one column.
    pub const COLUMN_HEAD: Tag = Tag::Th { scope: Scope::Column, columns: 1 };
    /// A header cell before one row.
    pub const ROW_HEAD: Tag = Tag::Th { scope: Scope::Row, columns: 1 };
    /// A cell one column wide.
    pub const CELL: Tag = Tag::Td { columns: 1, headers: Vec::new() };

    pub(super) fn name(&self) -> &'static str {
        match self {
            Tag::Part => "Part",
            Tag::Sect => "Sect",
            Tag::Div => "Div",
            Tag::H1 => "H1",
            Tag::H2 => "H2",
            Tag::H3 => "H3",
            Tag::P => "P",
            Tag::Span => "Span",
            Tag::L(_) => "L",
            Tag::Li => "LI",
            Tag::Lbl => "Lbl",
            Tag::LBody => "LBody",
            Tag::Table => "Table",
            Tag::THead => "THead",
            Tag::TBody => "TBody",
            Tag::Tr => "TR",
            Tag::Th { .. } => "TH",
            Tag::Td { .. } => "TD",
            Tag::Figure { .. } => "Figure",
            Tag::Caption => "Caption",
            Tag::Note => "Note",
            Tag::Reference => "Reference",
            Tag::Link => "Link",
            Tag::Toc => "TOC",
            Tag::Toci => "TOCI",
        }
    }

    /// A cell stands for its column even when nothing is in it.
    pub(super) fn is_cell(&self) -> bool {
        matches!(self, Tag::Th { .. } | Tag::Td { .. })
    }
}

/// What a header cell heads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scope {
    Row,
    Column,
    Both,
}

/// How the items of a list are labelled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Numbering {
    None,
    Bullet,
    Decimal,
}
