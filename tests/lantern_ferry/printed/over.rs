//! What stands over the system: bar numbers, rehearsal marks, tempos.

use rastrum::geometry::Rect;
use rastrum::layout::System;
use rastrum::score::{Score, SystemMark, SystemMarkKind};
use rastrum::units::Mm;

use super::bars::Bar;
use super::faces::Face;
use super::line::Line;
use super::paint::{Paint, Side, Type, upright};

const QUARTER: char = '\u{1D15F}';

/// Sizes in points, by the staff.
struct Sizes {
    number: Type,
    letter: Type,
    tempo: Type,
    words: Type,
}

impl Sizes {
    fn of(staff_height: Mm) -> Sizes {
        // Text does not grow as staves do.
        let more = 1.0 + (staff_height.0 - 4.2).max(0.0) * 0.06;
        Sizes {
            number: upright(Face::Regular, 7.0 * more),
            letter: upright(Face::Bold, 11.0 * more),
            tempo: upright(Face::Bold, 9.5 * more),
            words: upright(Face::Italic, 8.5 * more),
        }
    }
}

/// The number of the first bar.
pub fn bar_number(paint: &mut Paint, score: &Score, system: &System, bars: &[Bar]) {
    let (Some(first), Some(staff)) = (bars.first(), system.staves.first()) else { return };
    let at = (first.left, staff.top - staff.height * 0.45);
    paint.text(Sizes::of(staff.height).number, at, Side::Left, score.label(first.span.first));
}

/// What stands over one staff.
pub fn marks(paint: &mut Paint, score: &Score, bars: &[Bar], line: &mut Line) {
    let Some(end) = bars.last().map(|last| last.right) else { return };
    for bar in bars {
        let here = |mark: &&SystemMark| bar.holds(mark.bar) && mark.over.contains(&line.id);
        let mut right = None;
        for mark in score.marks.iter().filter(here).collect::<Vec<_>>() {
            match &mark.kind {
                SystemMarkKind::Rehearsal(letter) => right = Some(rehearsal(paint, bars, bar, line, letter)),
                SystemMarkKind::Tempo { words, metronome, .. } => {
                    let beat = metronome.as_ref().map_or(String::new(), |mark| format!(" = {}", mark.per_minute));
                    let from = right.unwrap_or(bar.metre_at.unwrap_or(bar.begin));
                    tempo(paint, line, (from, end), words, &beat);
                }
                SystemMarkKind::Jump(text) | SystemMarkKind::TempoMoves(text) => {
                    let words = Sizes::of(line.staff.height).words;
                    let y = line.ceiling(bar.x(mark.onset), bar.right) - line.staff.space();
                    paint.text(words, (bar.right, y), Side::Right, text);
                }
                SystemMarkKind::GeneralPause => {}
            }
        }
    }
}

/// A letter in a box; gives where the next mark may begin.
fn rehearsal(paint: &mut Paint, bars: &[Bar], bar: &Bar, line: &mut Line, letter: &str) -> Mm {
    let face = Sizes::of(line.staff.height).letter;
    let space = line.staff.space();
    let begins_system = bars.first().is_some_and(|first| first.span == bar.span);
    // The clef and the bar number keep the system's corner.
    let left = if begins_system { bar.left + space * 6.0 } else { bar.left };
    let (inner, high) = (paint.width(face, letter), face.size * 0.714);
    let pad = Mm(0.9);
    let right = left + inner + pad * 2.0;
    let base = height(line, left, right) - pad;
    paint.text(face, (left + pad, base), Side::Left, letter);
    let (top, bottom) = (base - high - pad, base + pad);
    let frame = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)];
    paint.strokes(&frame, Mm(0.25));
    line.taken.push(Rect::new(left, top, right, bottom));
    right + space * 1.2
}

/// Words and metronome mark, no further right than the system goes.
fn tempo(paint: &mut Paint, line: &mut Line, (from, end): (Mm, Mm), words: &str, beat: &str) {
    let face = Sizes::of(line.staff.height).tempo;
    let plain = Type { face: Face::Regular, ..face };
    let words = format!("{words}  ");
    let note = face.size * 1.05;
    let (wide, beat_wide) = (paint.width(face, &words), note * 0.4 + paint.width(plain, beat));
    let from = from.min(end - wide - beat_wide);
    let to = from + wide + beat_wide;
    let base = height(line, from, to) - Mm(0.9);
    paint.text(face, (from, base), Side::Left, &words);
    line.taken.push(Rect::new(from, base - face.size, to, base));
    if !beat.is_empty() {
        paint.glyph(QUARTER, note, (from + wide, base));
        paint.text(plain, (from + wide + note * 0.4, base), Side::Left, beat);
    }
}

/// Where marks stand over this staff: clear of what is there.
fn height(line: &Line, from: Mm, to: Mm) -> Mm {
    let space = line.staff.space();
    (line.ceiling(from, to) - space * 0.6).min(line.staff.top - space * 1.6)
}
