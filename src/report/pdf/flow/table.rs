//! Tables: columns, rows and cells. Their head is repeated on every page they go over.

use super::super::size::Points;
use super::super::style::{Align, Stroke, TextStyle};
use super::text::Text;
use crate::units::Mm;

mod columns;
mod grid;
mod setting;

/// A table as wide as the region.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Rows with more cells than there are columns get further columns, of one share each.
    pub columns: Vec<Column>,
    /// Rows of header cells.
    pub head: Vec<Row>,
    pub body: Vec<Row>,
    pub style: TableStyle,
    /// Stands above the table.
    pub caption: Option<Text>,
}

/// Width of a column and how its cells stand in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    pub width: Width,
    pub align: Align,
}

impl Column {
    #[must_use]
    pub const fn fixed(width: Mm) -> Column {
        Column { width: Width::Fixed(width), align: Align::Left }
    }

    #[must_use]
    pub const fn share(share: u16) -> Column {
        Column { width: Width::Share(share), align: Align::Left }
    }

    #[must_use]
    pub const fn aligned(self, align: Align) -> Column {
        Column { align, ..self }
    }
}

/// How wide a column is, padding included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Width {
    Fixed(Mm),
    /// A share of what the fixed columns leave.
    Share(u16),
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    pub cells: Vec<Cell>,
}

impl Row {
    #[must_use]
    pub fn new<T: Into<Cell>>(cells: impl IntoIterator<Item = T>) -> Row {
        Row { cells: cells.into_iter().map(Into::into).collect() }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    pub text: Text,
    /// Columns it covers; 0 counts as 1.
    pub columns: u16,
    pub kind: Kind,
}

/// What a cell of the body is; all cells of the head are header cells.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Kind {
    #[default]
    Data,
    /// Heads its row.
    Head,
}

impl Cell {
    #[must_use]
    pub fn new(text: impl Into<Text>) -> Cell {
        Cell { text: text.into(), columns: 1, kind: Kind::Data }
    }

    /// A cell that heads its row.
    #[must_use]
    pub fn head(text: impl Into<Text>) -> Cell {
        Cell { kind: Kind::Head, ..Cell::new(text) }
    }

    #[must_use]
    pub fn over(self, columns: u16) -> Cell {
        Cell { columns, ..self }
    }
}

impl<T: Into<Text>> From<T> for Cell {
    fn from(text: T) -> Cell {
        Cell::new(text)
    }
}

/// The look of a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TableStyle {
    pub body: TextStyle,
    pub head: TextStyle,
    pub caption: TextStyle,
    /// From baseline to baseline inside a cell.
    pub line: Mm,
    /// Left and right of a cell's text; above and below it half as much.
    pub padding: Mm,
    /// Above and below the head and below the table.
    pub rule: Stroke,
    /// Between rows.
    pub row_rule: Option<Stroke>,
    /// Room before and after, as for paragraphs.
    pub above: Mm,
    pub below: Mm,
}

impl TableStyle {
    /// Head in bold, caption as the head; a thin rule at the head and the end of the table.
    #[must_use]
    pub fn new(body: TextStyle) -> TableStyle {
        let head = body.in_face(super::super::style::Face::Bold);
        TableStyle {
            body,
            head,
            caption: head,
            line: Points(body.size.0 * 1.35).to_mm(),
            padding: Mm(1.5),
            rule: Stroke::new(Mm(0.2)),
            row_rule: None,
            above: Mm(2.0),
            below: Mm(3.0),
        }
    }

    #[must_use]
    pub fn spaced(self, above: Mm, below: Mm) -> TableStyle {
        TableStyle { above, below, ..self }
    }
}

impl Default for TableStyle {
    /// Nine point type.
    fn default() -> TableStyle {
        TableStyle::new(TextStyle::new(super::super::style::Face::Regular, Points(9.0)))
    }
}
