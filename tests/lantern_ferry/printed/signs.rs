//! Clefs, keys, metres and accidentals.

use rastrum::score::{Clef, ClefSign, Metre};
use rastrum::units::Mm;

use super::faces::Face;
use super::fine::Staff;
use super::paint::{Paint, Side, Type};

/// Left edge of the font's signs, for a staff one high.
const LEFT: f64 = 0.05;
/// Sharps and flats of a key from left to right in the treble clef, in half spaces above the middle line.
const SHARPS: [i32; 7] = [4, 1, 5, 2, -1, 3, 0];
const FLATS: [i32; 7] = [0, 3, -1, 2, -2, 1, -3];
const TREBLE_MIDDLE: i32 = 34;

pub fn clef(paint: &mut Paint, staff: Staff, clef: Clef, x: Mm) {
    let glyph = match clef.sign {
        ClefSign::F => '\u{1D122}',
        ClefSign::C => '\u{1D121}',
        ClefSign::Percussion => '\u{1D125}',
        _ => '\u{1D11E}',
    };
    let inset = if clef.sign == ClefSign::Percussion { staff.space() * 0.6 } else { Mm(0.0) };
    paint.glyph(glyph, staff.height, (x + inset - staff.height * LEFT, staff.bottom()));
}

pub fn key(paint: &mut Paint, staff: Staff, clef: Clef, fifths: i8, x: Mm) {
    let (alter, order) = if fifths > 0 { (2, SHARPS) } else { (-2, FLATS) };
    // In the bass clef a third lower than in the treble, in the alto clef a step.
    let lower = (clef.middle_line_steps() - TREBLE_MIDDLE).rem_euclid(7);
    for (nth, height) in order.iter().take(usize::from(fifths.unsigned_abs())).enumerate() {
        let right = x + staff.space() * (nth as f64 + 1.0);
        accidental(paint, staff, alter, height - lower, (right, 1.0));
    }
}

/// `right` is the sign's right edge.
pub fn accidental(paint: &mut Paint, staff: Staff, alter: i8, height: i32, (right, scale): (Mm, f64)) {
    // Glyph; its width and what of it is below the note's place, for a staff one high; its size.
    let (glyph, width, below, size) = match alter {
        4.. => ('\u{1D12A}', 0.26, 0.131, 1.0),
        1..=3 => ('\u{266F}', 0.452, 0.178, 0.72),
        0 => ('\u{266E}', 0.255, 0.095, 1.0),
        -3..=-1 => ('\u{266D}', 0.245, 0.115, 1.0),
        ..=-4 => ('\u{1D12B}', 0.367, 0.115, 1.0),
    };
    let size = staff.height * (size * scale);
    paint.glyph(glyph, size, (right - size * (width + LEFT), staff.y(height) + size * below));
}

/// Two figures over each other.
pub fn metre(paint: &mut Paint, staff: Staff, metre: &Metre, x: Mm) {
    // Capitals of the face are 0.714 of its size: two spaces high.
    let figures = Type { face: Face::Bold, size: staff.space() * (1.9 / 0.714), leans: false };
    let middle = x + staff.space() * 0.8;
    for (text, line) in metre.text.split('/').zip([2.0, 4.0]) {
        let baseline = staff.top + staff.space() * (line - 0.05);
        paint.text(figures, (middle, baseline), Side::Middle, text);
    }
}
