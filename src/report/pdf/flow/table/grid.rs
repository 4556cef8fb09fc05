//! The rows of a table with their text wrapped into the columns.

use super::super::super::style::TextStyle;
use super::super::lines::Setting;
use super::super::text::Text;
use super::super::wrap::{SetLine, wrap_text};
use super::columns::Columns;
use super::{Cell, Kind, Row, TableStyle};
use crate::units::Mm;

/// A row ready to be set; its cells cover all columns.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct GridRow {
    pub(super) cells: Vec<GridCell>,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) struct GridCell {
    pub(super) text: Text,
    pub(super) lines: Vec<SetLine>,
    pub(super) columns: u16,
    pub(super) kind: Kind,
    /// Edges of the text, from the table's left edge.
    pub(super) left: Mm,
    pub(super) right: Mm,
    align: super::super::super::style::Align,
}

impl GridRow {
    pub(super) fn new(row: &Row, columns: &Columns, style: &TableStyle, text: TextStyle) -> GridRow {
        let mut cells = Vec::new();
        let mut column = 0;
        let blank = Cell::new(Text::default());
        let mut given = row.cells.iter();
        while column < columns.count() {
            let cell = given.next().unwrap_or(&blank);
            let covered = cell.columns.max(1);
            let (left, right) = columns.span(column, usize::from(covered));
            let (left, right) = (left + style.padding, right - style.padding);
            cells.push(GridCell {
                lines: wrap_text(&cell.text, &text_of(cell, style, text), right - left),
                text: cell.text.clone(),
                columns: covered,
                kind: cell.kind,
                left,
                right,
                align: columns.align(column),
            });
            column += usize::from(covered);
        }
        GridRow { cells }
    }

    /// Lines of its tallest cell, at least 1.
    pub(super) fn lines(&self) -> usize {
        self.cells.iter().map(|cell| cell.lines.len()).max().unwrap_or(0).max(1)
    }

    pub(super) fn height(&self, style: &TableStyle) -> Mm {
        style.height_of(self.lines())
    }
}

impl GridCell {
    pub(super) fn setting(&self, style: &TableStyle, text: TextStyle) -> Setting {
        Setting { style: text, line: style.line, align: self.align }
    }
}

impl TableStyle {
    /// Of a row of so many lines, or of a part of it.
    pub(super) fn height_of(&self, lines: usize) -> Mm {
        self.line * lines as f64 + self.padding
    }
}

fn text_of(cell: &Cell, style: &TableStyle, text: TextStyle) -> TextStyle {
    match cell.kind {
        Kind::Head => text.in_face(style.head.face),
        Kind::Data => text,
    }
}
