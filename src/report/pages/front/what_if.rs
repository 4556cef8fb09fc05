//! Other papers and staff heights: a small table on the first sheet.

use crate::casting_off::{WhatIf, WhatIfPaper};
use crate::check::Checked;
use crate::geometry::Rect;
use crate::report::pages::style;
use crate::report::pdf::{Align, Artifact, Canvas, Elem, Face, Scope, Tag, TextStyle, at};
use crate::report::what_if;
use crate::units::Mm;

/// Papers shown; the house lists the customary ones first.
const MOST: usize = 5;
const ROW: Mm = Mm(4.2);
/// Of the column that names the papers, and of the last one.
const NAMES: Mm = Mm(40.0);
const LARGEST: Mm = Mm(38.0);
/// Above the caption, and below the last row.
const AIR: Mm = Mm(3.0);

pub(super) fn height(checked: &Checked) -> Mm {
    checked.what_if.as_ref().map_or(Mm::ZERO, |table| ROW * (shown(table).len() + 2) as f64 + AIR * 2.0)
}

fn shown(table: &WhatIf) -> &[WhatIfPaper] {
    table.papers.get(..MOST).unwrap_or(&table.papers)
}

/// Draws it below `top`.
pub(super) fn draw(checked: &Checked, canvas: &mut Canvas<'_>, section: Elem, top: Mm) {
    let Some(table) = &checked.what_if else { return };
    let area = style::content();
    let caption = canvas.element(section, Tag::P);
    let mut y = top + AIR + ROW;
    canvas.artifact(Artifact::Layout, |ink| ink.line(at(area.left, top), at(area.right, top), &style::HAIR));
    canvas.tagged(caption, |ink| {
        ink.text(at(area.left, y - Mm(1.0)), Align::Left, &style::TINY.in_grey(style::quiet()), what_if::CAPTION);
    });
    let papers = shown(table);
    let heights = what_if::heights(papers);
    let columns = Columns { area, count: heights.len() };
    let elem = canvas.element(section, Tag::Table);
    y += ROW;
    let heads = std::iter::once("paper".to_owned())
        .chain(heights.iter().map(|height| format!("staves of {height}")))
        .chain([what_if::LARGEST.to_owned()])
        .map(|text| (Tag::Th { scope: Scope::Column, columns: 1 }, text));
    columns.set_row(canvas, elem, &Line { y, look: style::SMALL.in_grey(style::quiet()) }, heads);
    for paper in papers {
        y += ROW;
        let look = if paper.is_own { style::SMALL.in_face(Face::Bold) } else { style::SMALL };
        let name = (Tag::Th { scope: Scope::Row, columns: 1 }, what_if::paper(paper));
        let cells = paper.cells.iter().map(|cell| what_if::cell(cell, &checked.score));
        let cells = cells.chain([what_if::largest(paper.largest)]);
        let cells = cells.map(|text| (Tag::Td { columns: 1, headers: Vec::new() }, text));
        columns.set_row(canvas, elem, &Line { y, look }, std::iter::once(name).chain(cells));
    }
}

struct Columns {
    area: Rect,
    /// Between the first and the last.
    count: usize,
}

impl Columns {
    fn left(&self, column: usize) -> Mm {
        let middle = (self.area.width() - NAMES - LARGEST) / self.count.max(1) as f64;
        match column {
            0 => self.area.left,
            column => self.area.left + NAMES + middle * (column - 1).min(self.count) as f64,
        }
    }

    /// Sets cells from the left; the first may head its row.
    fn set_row(&self, canvas: &mut Canvas<'_>, elem: Elem, line: &Line, cells: impl Iterator<Item = (Tag, String)>) {
        let row = canvas.element(elem, Tag::Tr);
        for (column, (tag, text)) in cells.enumerate() {
            let cell = canvas.element(row, tag);
            canvas.tagged(cell, |ink| ink.text(at(self.left(column), line.y), Align::Left, &line.look, &text));
        }
    }
}

/// Where a row stands, and its type.
struct Line {
    y: Mm,
    look: TextStyle,
}
