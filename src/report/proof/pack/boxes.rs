//! The boxes of a reader's sheet: two for initials beside each line, in three columns.

use crate::check::ProofedPart;
use crate::geometry::Rect;
use crate::report::pages::style;
use crate::report::pdf::{Align, Drawing, Face, Paint, TextStyle, at, shortened};
use crate::units::Mm;

const COLUMNS: usize = 3;
/// From one line to the next, and a box for one reader's initials.
const ROW: Mm = Mm(5.6);
const BOX: (Mm, Mm) = (Mm(9.0), Mm(4.6));
/// Between boxes, and before the text.
const GAP: Mm = Mm(1.2);
/// Between columns.
const BETWEEN: Mm = Mm(7.0);
/// The words over the boxes.
const HEAD: Mm = Mm(4.5);

/// Lines that fit into so much height.
pub(super) fn fitting(room: Mm) -> usize {
    let each = ((room - HEAD - Mm(1.0)) / ROW).max(1.0) as usize;
    each * COLUMNS
}

/// The lines, down the first column, then the next.
pub(super) fn drawing(rows: &[String], part: &ProofedPart) -> Drawing {
    let each = rows.len().div_ceil(COLUMNS);
    let told = rows.join("; ");
    let alt =
        format!("Boxes for the initials of two readers of {}, one pair beside each of: {told}.", part.player.name);
    let rows: Vec<String> = rows.to_vec();
    let draw = move |ink: &mut crate::report::pdf::Ink<'_>, area: Rect| {
        let width = (area.width() - BETWEEN * (COLUMNS - 1) as f64) / COLUMNS as f64;
        let text = TextStyle::new(Face::Regular, style::SMALL.size);
        let small = TextStyle::new(Face::Regular, style::TINY.size).in_grey(style::quiet());
        for (column, rows) in rows.chunks(each.max(1)).enumerate() {
            let left = area.left + (width + BETWEEN) * column as f64;
            let second = left + BOX.0 + GAP;
            let words = second + BOX.0 + GAP * 2.0;
            let first_line = area.top + HEAD;
            for (x, label) in [(left, "1st"), (second, "2nd")] {
                ink.text(at(x + BOX.0 / 2.0, first_line - Mm(1.2)), Align::Centre, &small, label);
            }
            for (nth, row) in rows.iter().enumerate() {
                let top = first_line + ROW * nth as f64;
                for x in [left, second] {
                    ink.rect(Rect::new(x, top, x + BOX.0, top + BOX.1), &Paint::stroke(style::HAIR));
                }
                // The top of a page is where a reader begins anew.
                let face = if row.starts_with("Top of") { Face::Bold } else { Face::Regular };
                let look = TextStyle { face, ..text };
                let fits = shortened(look.face, look.size, row, left + width - words);
                ink.text(at(words, top + BOX.1 - Mm(1.3)), Align::Left, &look, &fits);
            }
        }
    };
    Drawing::new(HEAD + ROW * each as f64, alt, draw).spaced(Mm(2.0), Mm::ZERO)
}
