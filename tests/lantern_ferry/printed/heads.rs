//! Heads with their ledger lines, accidentals and dots.

use rastrum::score::{EventKind, Note};
use rastrum::units::Mm;

use super::fine::{Fine, Staff};
use super::line::Placed;
use super::paint::Paint;
use super::signs;

const BLACK: char = '\u{1D158}';
const HALF: char = '\u{1D157}';
const WHOLE: char = '\u{1D15D}';
/// Their middle above their baseline, and their left edge, for a staff one high.
const MIDDLE: f64 = 0.134;
const LEFT: f64 = 0.05;

pub fn draw(paint: &mut Paint, staff: Staff, fine: Fine, own: &Placed) {
    let EventKind::Chord(notes) = &own.event.kind else { return };
    let glyph = match own.halvings() {
        ..=0 => WHOLE,
        1 => HALF,
        _ => BLACK,
    };
    let size = staff.height * own.scale;
    let aside = aside(own, fine);
    for (height, aside) in own.heights.iter().zip(&aside) {
        let y = staff.y(*height) + size * MIDDLE;
        paint.glyph(glyph, size, (own.x + *aside - size * LEFT, y));
    }
    ledger_lines(paint, staff, fine, own, &aside);
    accidentals(paint, staff, own, notes, &aside);
    dots(paint, staff, own, &aside);
}

/// Heads a step apart stand on both sides of the stem.
fn aside(own: &Placed, fine: Fine) -> Vec<Mm> {
    let mut aside = vec![Mm(0.0); own.heights.len()];
    let by = if own.up { own.width - fine.stem } else { fine.stem - own.width };
    let order: Vec<usize> = if own.up { (0..aside.len()).collect() } else { (0..aside.len()).rev().collect() };
    for pair in order.windows(2) {
        let near = (own.heights[pair[0]] - own.heights[pair[1]]).abs() == 1;
        if near && aside[pair[0]] == Mm(0.0) {
            aside[pair[1]] = by;
        }
    }
    aside
}

fn ledger_lines(paint: &mut Paint, staff: Staff, fine: Fine, own: &Placed, aside: &[Mm]) {
    let over = staff.space() * (0.35 * own.scale);
    let left = own.x + aside.iter().copied().fold(Mm(0.0), Mm::min) - over;
    let right = own.x + own.width + aside.iter().copied().fold(Mm(0.0), Mm::max) + over;
    let above = (6..=own.highest()).filter(|height| height % 2 == 0);
    let below = (own.lowest()..=-6).filter(|height| height % 2 == 0);
    for height in above.chain(below) {
        paint.stroke((left, staff.y(height)), (right, staff.y(height)), fine.staff_line * 1.3);
    }
}

fn accidentals(paint: &mut Paint, staff: Staff, own: &Placed, notes: &[Note], aside: &[Mm]) {
    let leftmost = own.x + aside.iter().copied().fold(Mm(0.0), Mm::min);
    // From the right; the heights that stand in each column.
    let mut columns: Vec<Vec<i32>> = Vec::new();
    for (note, height) in notes.iter().zip(&own.heights).rev().filter(|(note, _)| note.accidental) {
        let is_free = |column: &Vec<i32>| column.iter().all(|other| (other - height).abs() > 5);
        let column = columns.iter().position(is_free).unwrap_or(columns.len());
        if column == columns.len() {
            columns.push(Vec::new());
        }
        columns[column].push(*height);
        let right = leftmost - staff.space() * (0.25 + 1.25 * column as f64) * own.scale;
        signs::accidental(paint, staff, note.pitch.alter, *height, (right, own.scale));
    }
}

fn dots(paint: &mut Paint, staff: Staff, own: &Placed, aside: &[Mm]) {
    let right = own.x + own.width + aside.iter().copied().fold(Mm(0.0), Mm::max);
    for nth in 0..own.event.value.dots {
        for height in &own.heights {
            // In a space, never on a line.
            let height = if height % 2 == 0 { height + 1 } else { *height };
            let x = right + staff.space() * (0.5 + 0.55 * f64::from(nth));
            paint.dot((x, staff.y(height)), staff.space() * (0.22 * own.scale));
        }
    }
}
