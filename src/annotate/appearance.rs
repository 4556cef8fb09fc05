//! How a note looks: its outline, and its number in a box. Black and one grey; weight is told by thickness and by a
//! box that is filled.

use std::fmt::Write;

use super::digits::{self, Pen};
use super::place::{PADDING, Placed, pen_height, stroke};
use crate::geometry::Rect;
use crate::units::Mm;

/// The lighter of two greys that copying machines keep; 0 is black.
const GREY: f64 = 0.3;

/// Thickness of the box around a light number.
const FRAME: Mm = Mm(0.3);

/// The grey of a note's lines.
pub(super) fn grey(heavy: bool) -> f64 {
    if heavy { 0.0 } else { GREY }
}

/// Content of a form whose box is the note's whole area, upright as shown, its origin at the lower left corner.
pub(super) fn content(note: &Placed, number: usize, heavy: bool, per_mm: f64) -> String {
    let mut sheet = Sheet { text: String::new(), area: note.whole(), per_mm };
    let grey = grey(heavy);
    sheet.put(&[grey], "G");
    sheet.put(&[grey], "g");
    if let Some(outline) = &note.outline {
        sheet.length(note.line, "w");
        sheet.rect(outline);
        sheet.put(&[], "S");
    }
    if heavy {
        sheet.rect(&note.label);
        sheet.put(&[], "f");
        sheet.put(&[1.0], "G");
    } else {
        sheet.put(&[1.0], "g");
        sheet.length(FRAME, "w");
        sheet.rect(&note.label.grown(-(FRAME / 2.0)));
        sheet.put(&[], "B");
        sheet.put(&[0.0], "G");
    }
    sheet.length(stroke(), "w");
    sheet.put(&[1.0], "J");
    sheet.put(&[1.0], "j");
    sheet.number(&note.label, number);
    sheet.text
}

/// Content that grows.
struct Sheet {
    text: String,
    area: Rect,
    per_mm: f64,
}

impl Sheet {
    fn number(&mut self, label: &Rect, number: usize) {
        let height = pen_height();
        let inset = PADDING + stroke() / 2.0;
        let (mut left, foot) = (label.left + inset, label.bottom - inset);
        for digit in digits::strokes(number) {
            let at = |x: i16, y: i16| (left + height * (f64::from(x) / 100.0), foot - height * (f64::from(y) / 100.0));
            for movement in digit {
                match *movement {
                    Pen::Move(x, y) => self.points(&[at(x, y)], "m"),
                    Pen::Line(x, y) => self.points(&[at(x, y)], "l"),
                    Pen::Curve([x, y, to_x, to_y, end_x, end_y]) => {
                        self.points(&[at(x, y), at(to_x, to_y), at(end_x, end_y)], "c");
                    }
                }
            }
            self.put(&[], "S");
            left += height * (f64::from(digits::ADVANCE) / 100.0);
        }
    }

    fn rect(&mut self, rect: &Rect) {
        let (x, y) = self.units(rect.left, rect.bottom);
        self.put(&[x, y, rect.width().0 * self.per_mm, rect.height().0 * self.per_mm], "re");
    }

    fn length(&mut self, length: Mm, operator: &str) {
        self.put(&[length.0 * self.per_mm], operator);
    }

    fn points(&mut self, points: &[(Mm, Mm)], operator: &str) {
        let units: Vec<f64> = points
            .iter()
            .flat_map(|(x, y)| {
                let (x, y) = self.units(*x, *y);
                [x, y]
            })
            .collect();
        self.put(&units, operator);
    }

    fn units(&self, x: Mm, y: Mm) -> (f64, f64) {
        ((x - self.area.left).0 * self.per_mm, (self.area.bottom - y).0 * self.per_mm)
    }

    fn put(&mut self, operands: &[f64], operator: &str) {
        for operand in operands {
            // Writing into a string cannot fail.
            let _ = write!(self.text, "{} ", rounded(*operand));
        }
        self.text.push_str(operator);
        self.text.push('\n');
    }
}

/// To a thousandth: far below what any device shows.
pub(super) fn rounded(value: f64) -> f64 {
    let rounded = (value * 1000.0).round() / 1000.0;
    if rounded == 0.0 { 0.0 } else { rounded }
}
