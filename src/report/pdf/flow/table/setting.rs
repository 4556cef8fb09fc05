//! Setting a table row by row, over page breaks.

use super::super::super::canvas::Artifact;
use super::super::super::size::at;
use super::super::super::structure::Elem;
use super::super::super::style::{Stroke, TextStyle};
use super::super::super::tag::{Scope, Tag};
use super::super::Flow;
use super::super::lines::{Setting, set_lines};
use super::super::wrap::wrap_text;
use super::columns::Columns;
use super::grid::{GridCell, GridRow};
use super::{Kind, Table};
use crate::geometry::Rect;
use crate::units::Mm;

impl Table {
    /// Caption, head and the first row of the body stay together.
    pub(in super::super) fn needed(&self, width: Mm) -> Mm {
        let grid = Grid::of(self, width);
        let first = grid.body.first().map_or(Mm::ZERO, |row| row.height(&self.style));
        self.caption_height(width) + grid.head_height() + first
    }

    pub(in super::super) fn set(&self, flow: &mut Flow<'_>, parent: Elem) {
        let elem = flow.doc.element(parent, Tag::Table);
        self.set_caption(flow, elem);
        let grid = Grid::of(self, flow.width());
        let head = flow.doc.element(elem, Tag::THead);
        grid.set_head(flow, head);
        let body = flow.doc.element(elem, Tag::TBody);
        for (index, row) in grid.body.iter().enumerate() {
            if index > 0 {
                grid.rule(flow, self.style.row_rule);
            }
            grid.set_body_row(flow, body, row);
        }
        grid.rule(flow, Some(self.style.rule));
    }

    fn caption_height(&self, width: Mm) -> Mm {
        let caption = self.caption.as_ref().map(|caption| wrap_text(caption, &self.style.caption, width));
        caption.map_or(Mm::ZERO, |lines| self.style.line * lines.len() as f64 + self.style.padding)
    }

    fn set_caption(&self, flow: &mut Flow<'_>, table: Elem) {
        let Some(caption) = &self.caption else { return };
        let elem = flow.doc.element(table, Tag::Caption);
        let setting = Setting { style: self.style.caption, line: self.style.line, align: Default::default() };
        let lines = wrap_text(caption, &self.style.caption, flow.width());
        let region = flow.rest();
        set_lines(&mut flow.doc.page(region.page), elem, caption, &lines, &setting, region.area);
        flow.y += self.caption_height(flow.width());
    }
}

struct Grid<'t> {
    table: &'t Table,
    columns: Columns,
    head: Vec<GridRow>,
    body: Vec<GridRow>,
}

impl Grid<'_> {
    fn of(table: &Table, width: Mm) -> Grid<'_> {
        let columns = Columns::of(table, width);
        let style = &table.style;
        Grid {
            head: table.head.iter().map(|row| GridRow::new(row, &columns, style, style.head)).collect(),
            body: table.body.iter().map(|row| GridRow::new(row, &columns, style, style.body)).collect(),
            columns,
            table,
        }
    }

    fn head_height(&self) -> Mm {
        self.head.iter().map(|row| row.height(&self.table.style)).sum()
    }

    /// Sets the head below `parent`: read again where it is printed again, since checkers take words that nobody reads for
    /// a mistake.
    fn set_head(&self, flow: &mut Flow<'_>, parent: Elem) {
        self.rule(flow, Some(self.table.style.rule));
        for row in &self.head {
            let elem = flow.doc.element(parent, Tag::Tr);
            let tag = |cell: &GridCell| Tag::Th { scope: Scope::Column, columns: cell.columns };
            let owners: Vec<Elem> = row.cells.iter().map(|cell| flow.doc.element(elem, tag(cell))).collect();
            self.set_lines_of(flow, row, &owners, 0, row.lines(), self.table.style.head);
        }
        if !self.head.is_empty() {
            self.rule(flow, Some(self.table.style.rule));
        }
    }

    fn set_body_row(&self, flow: &mut Flow<'_>, body: Elem, row: &GridRow) {
        let style = &self.table.style;
        let fits_a_page = row.height(style) + self.head_height() <= flow.region.area.height();
        if !flow.has_room(row.height(style)) && (fits_a_page || !flow.has_room(style.height_of(2))) {
            self.go_on(flow, body);
        }
        let elem = flow.doc.element(body, Tag::Tr);
        let owners: Vec<Elem> = row.cells.iter().map(|cell| flow.doc.element(elem, tag_of(cell))).collect();
        let mut set = 0;
        loop {
            let room = flow.lines_left(style.line).saturating_sub((style.padding / style.line).ceil() as usize).max(1);
            let end = if flow.has_room(style.height_of(row.lines() - set)) {
                row.lines()
            } else {
                row.lines().min(set + room)
            };
            self.set_lines_of(flow, row, &owners, set, end, style.body);
            set = end;
            if set == row.lines() {
                break;
            }
            self.go_on(flow, body);
        }
    }

    /// Ends the table's part on this page and begins the next with the head, unless that would fill half of it.
    fn go_on(&self, flow: &mut Flow<'_>, body: Elem) {
        self.rule(flow, Some(self.table.style.rule));
        flow.break_page();
        if self.head_height() * 2.0 < flow.rest().area.height() {
            self.set_head(flow, body);
        }
    }

    /// Sets the lines from `begin` to before `end` of each cell.
    fn set_lines_of(
        &self,
        flow: &mut Flow<'_>,
        row: &GridRow,
        owners: &[Elem],
        begin: usize,
        end: usize,
        text: TextStyle,
    ) {
        let style = &self.table.style;
        let region = flow.rest();
        let left = region.area.left;
        for (cell, owner) in row.cells.iter().zip(owners) {
            let lines = cell.lines.get(begin..end.min(cell.lines.len())).unwrap_or_default();
            if lines.is_empty() {
                continue;
            }
            let area = Rect::new(left + cell.left, flow.y + style.padding / 2.0, left + cell.right, region.area.bottom);
            let setting = cell.setting(style, text);
            set_lines(&mut flow.doc.page(region.page), *owner, &cell.text, lines, &setting, area);
        }
        flow.y += style.height_of(end - begin);
    }

    fn rule(&self, flow: &mut Flow<'_>, stroke: Option<Stroke>) {
        let Some(stroke) = stroke else { return };
        let (left, y) = (flow.region.area.left, flow.y);
        flow.doc.page(flow.region.page).artifact(Artifact::Layout, |ink| {
            ink.line(at(left, y), at(left + self.columns.width(), y), &stroke);
        });
    }
}

fn tag_of(cell: &GridCell) -> Tag {
    match cell.kind {
        Kind::Head => Tag::Th { scope: Scope::Row, columns: cell.columns },
        Kind::Data => Tag::Td { columns: cell.columns, headers: Vec::new() },
    }
}
