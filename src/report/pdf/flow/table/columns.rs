//! Where the columns of a table stand.

use super::super::super::style::Align;
use super::{Column, Row, Table, Width};
use crate::units::Mm;

/// Left edges and the right edge of the last, from the table's left edge, with the alignment of each.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Columns {
    edges: Vec<Mm>,
    aligns: Vec<Align>,
}

impl Columns {
    pub(super) fn of(table: &Table, width: Mm) -> Columns {
        let count = table.head.iter().chain(&table.body).map(Row::columns).max().unwrap_or(0).max(table.columns.len());
        let further = std::iter::repeat(Column::share(1));
        let columns: Vec<Column> = table.columns.iter().copied().chain(further).take(count).collect();

        let fixed: Mm = columns.iter().map(|column| column.fixed_width()).sum();
        let shares: f64 = columns.iter().map(|column| column.shares()).sum();
        let one_share = if shares > 0.0 { (width - fixed).max(Mm::ZERO) / shares } else { Mm::ZERO };
        let mut edges = vec![Mm::ZERO];
        let mut edge = Mm::ZERO;
        for column in &columns {
            edge += column.fixed_width() + one_share * column.shares();
            edges.push(edge);
        }
        Columns { edges, aligns: columns.iter().map(|column| column.align).collect() }
    }

    pub(super) fn count(&self) -> usize {
        self.aligns.len()
    }

    /// Left and right edge of a cell over `columns` columns from the one at `first`.
    pub(super) fn span(&self, first: usize, columns: usize) -> (Mm, Mm) {
        let edge = |index: usize| self.edges.get(index).or(self.edges.last()).copied().unwrap_or(Mm::ZERO);
        (edge(first), edge(first.saturating_add(columns)))
    }

    pub(super) fn align(&self, column: usize) -> Align {
        self.aligns.get(column).copied().unwrap_or_default()
    }

    pub(super) fn width(&self) -> Mm {
        self.edges.last().copied().unwrap_or(Mm::ZERO)
    }
}

impl Column {
    fn fixed_width(&self) -> Mm {
        match self.width {
            Width::Fixed(width) => width.max(Mm::ZERO),
            Width::Share(_) => Mm::ZERO,
        }
    }

    fn shares(&self) -> f64 {
        match self.width {
            Width::Fixed(_) => 0.0,
            Width::Share(share) => f64::from(share),
        }
    }
}

impl Row {
    fn columns(&self) -> usize {
        self.cells.iter().map(|cell| usize::from(cell.columns.max(1))).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::super::Cell;
    use super::*;

    #[test]
    fn shares_divide_what_the_fixed_columns_leave() {
        let table =
            Table { columns: vec![Column::fixed(Mm(10.0)), Column::share(1), Column::share(3)], ..Table::default() };
        let columns = Columns::of(&table, Mm(50.0));
        assert_eq!(columns.span(0, 1), (Mm(0.0), Mm(10.0)));
        assert_eq!(columns.span(1, 2), (Mm(10.0), Mm(50.0)));
    }

    #[test]
    fn a_row_with_more_cells_gets_further_columns() {
        let body = vec![Row::new(["a", "b"]), Row { cells: vec![Cell::new("c").over(3)] }];
        let columns = Columns::of(&Table { body, ..Table::default() }, Mm(30.0));
        assert_eq!(columns.count(), 3);
        assert_eq!(columns.span(2, 1), (Mm(20.0), Mm(30.0)));
    }
}
