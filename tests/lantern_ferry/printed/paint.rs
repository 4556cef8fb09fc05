//! Marks on a page, written as PDF content: millimetres from the top left corner, y downwards.

use std::fmt::Write;

use rastrum::units::Mm;

use super::faces::{Face, Faces};

pub type Point = (Mm, Mm);

/// Content of a page or of a form on it.
pub struct Paint<'f> {
    pub faces: &'f mut Faces,
    content: String,
}

/// Where text stands against its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Begins there.
    Left,
    Middle,
    /// Ends there.
    Right,
}

/// A face at a size.
#[derive(Clone, Copy, Debug)]
pub struct Type {
    pub face: Face,
    pub size: Mm,
    /// Leans to the right, where the face itself is upright.
    pub leans: bool,
}

/// How far leaning letters lean: the tangent of 12 degrees.
const LEAN: f64 = 0.2126;
const POINT: f64 = 25.4 / 72.0;

pub fn upright(face: Face, points: f64) -> Type {
    Type { face, size: Mm(points * POINT), leans: false }
}

impl<'f> Paint<'f> {
    pub fn new(faces: &'f mut Faces) -> Paint<'f> {
        Paint { faces, content: String::new() }
    }

    pub fn into_content(self) -> String {
        self.content
    }

    /// Whatever the page needs besides marks.
    pub fn raw(&mut self, operators: &str) {
        self.content.push_str(operators);
        self.content.push('\n');
    }

    pub fn width(&self, of: Type, text: &str) -> Mm {
        self.faces.width(of.face, of.size, text)
    }

    pub fn stroke(&mut self, from: Point, to: Point, thick: Mm) {
        self.path(&[from, to]);
        self.write(&[thick]);
        self.raw("w S");
    }

    /// Through all points.
    pub fn strokes(&mut self, points: &[Point], thick: Mm) {
        self.path(points);
        self.write(&[thick]);
        self.raw("w S");
    }

    pub fn filled(&mut self, points: &[Point]) {
        self.path(points);
        self.raw("h f");
    }

    pub fn rectangle(&mut self, corner: Point, width: Mm, height: Mm) {
        self.write(&[corner.0, corner.1, width, height]);
        self.raw("re f");
    }

    /// A shape whose edges are Bezier curves: a beginning, then threes of two handles and an end.
    pub fn curved(&mut self, from: Point, curves: &[[Point; 3]]) {
        self.write(&[from.0, from.1]);
        self.raw("m");
        for curve in curves {
            for point in curve {
                self.write(&[point.0, point.1]);
            }
            self.raw("c");
        }
        self.raw("h f");
    }

    pub fn dot(&mut self, (x, y): Point, radius: Mm) {
        // Handles that make four curves a circle.
        let k = radius * 0.5523;
        let r = radius;
        self.curved(
            (x + r, y),
            &[
                [(x + r, y + k), (x + k, y + r), (x, y + r)],
                [(x - k, y + r), (x - r, y + k), (x - r, y)],
                [(x - r, y - k), (x - k, y - r), (x, y - r)],
                [(x + k, y - r), (x + r, y - k), (x + r, y)],
            ],
        );
    }

    /// `at` is on the baseline.
    pub fn text(&mut self, of: Type, at: Point, side: Side, text: &str) {
        let back = match side {
            Side::Left => 0.0,
            Side::Middle => 0.5,
            Side::Right => 1.0,
        };
        let left = at.0 - self.width(of, text) * back;
        self.set(of.face, (of.size, of.size), if of.leans { LEAN } else { 0.0 }, (left, at.1), text);
    }

    /// A glyph of music for a staff of this height; `at` is on what would be the staff's bottom line.
    pub fn glyph(&mut self, glyph: char, height: Mm, at: Point) {
        self.stretched(glyph, (height, height), at);
    }

    /// The same, wider or narrower.
    pub fn stretched(&mut self, glyph: char, (across, up): (Mm, Mm), at: Point) {
        self.set(Face::Music, (across, up), 0.0, at, glyph.encode_utf8(&mut [0; 4]));
    }

    fn set(&mut self, face: Face, (across, up): (Mm, Mm), lean: f64, at: Point, text: &str) {
        let hex = self.faces.encoded(face, text);
        let _ = write!(self.content, "BT/{} 1 Tf ", face.key());
        self.write(&[across, Mm(0.0), up * lean, -up, at.0, at.1]);
        let _ = writeln!(self.content, "Tm<{hex}>Tj ET");
    }

    fn path(&mut self, points: &[Point]) {
        for (nth, point) in points.iter().enumerate() {
            self.write(&[point.0, point.1]);
            self.content.push_str(if nth == 0 { "m " } else { "l " });
        }
    }

    fn write(&mut self, lengths: &[Mm]) {
        for length in lengths {
            self.content.push_str(&short(length.0));
            self.content.push(' ');
        }
    }
}

/// To a thousandth, without zeros that say nothing.
pub fn short(number: f64) -> String {
    let text = format!("{number:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
