//! Dynamics, hairpins, words and lines at the staff; tempo and rehearsal marks over it.

use super::skyline::{Run, Skyline, Where};
use crate::place::{BarIdx, StaffId};
use crate::score::{Family, MarkKind, Score, StaffMark, SystemMark, SystemMarkKind};
use crate::units::Fraction;

/// Heights with the air around them, in spaces (from memory).
const DYNAMIC: f32 = 2.2;
const HAIRPIN: f32 = 1.6;
const WORDS: f32 = 2.0;
const DASHES: f32 = 1.0;
const OCTAVE_LINE: f32 = 2.0;
const PEDAL: f32 = 2.0;
const FIGURES_ROW: f32 = 1.8;
const CHORD_SYMBOL: f32 = 2.2;
const TEMPO: f32 = 2.5;
const REHEARSAL: f32 = 3.5;
/// Widths in spaces a letter (from memory).
const LETTER: f32 = 1.1;
const TEMPO_LETTER: f32 = 1.3;

/// A line with a beginning and an end.
#[derive(Clone, Copy)]
struct Spanned {
    kind: LineKind,
    number: u8,
    above: Option<bool>,
    from: (BarIdx, Fraction),
    /// Where it began, as long as it is open.
    to: (BarIdx, Fraction),
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum LineKind {
    Hairpin,
    /// Octaves up.
    Octaves(i8),
    Other,
}

/// Hairpins, octave lines and dashed lines of one staff.
#[derive(Default)]
pub(super) struct Lines {
    all: Vec<Spanned>,
    octaves: Vec<Spanned>,
}

impl Lines {
    pub fn of(score: &Score, staff: StaffId) -> Lines {
        let mut open: Vec<Spanned> = Vec::new();
        let mut lines = Lines::default();
        for_each_mark(score, staff, |bar, mark| {
            let here = (bar, mark.onset);
            let begun = |kind, number| Spanned { kind, number, above: mark.above, from: here, to: here };
            let is_open: fn(LineKind) -> bool;
            let number = match mark.kind {
                MarkKind::HairpinStart { number, .. } => return open.push(begun(LineKind::Hairpin, number)),
                MarkKind::OctaveLineStart { number, octaves } => {
                    return open.push(begun(LineKind::Octaves(octaves), number));
                }
                MarkKind::LineStart { number } => return open.push(begun(LineKind::Other, number)),
                MarkKind::HairpinStop { number } => {
                    is_open = |kind| kind == LineKind::Hairpin;
                    number
                }
                MarkKind::OctaveLineStop { number } => {
                    is_open = |kind| matches!(kind, LineKind::Octaves(_));
                    number
                }
                MarkKind::LineStop { number } => {
                    is_open = |kind| kind == LineKind::Other;
                    number
                }
                _ => return,
            };
            // The latest of that number: a file that leaves one open means the new one.
            if let Some(at) = open.iter().rposition(|line| line.number == number && is_open(line.kind)) {
                lines.close(open.remove(at), here);
            }
        });
        lines
    }

    fn close(&mut self, line: Spanned, to: (BarIdx, Fraction)) {
        if line.from > to {
            return;
        }
        let line = Spanned { to, ..line };
        self.all.push(line);
        if matches!(line.kind, LineKind::Octaves(_)) {
            self.octaves.push(line);
        }
    }

    /// By how many octaves notes are printed lower than they stand in the file.
    pub fn octaves_at(&self, bar: BarIdx, onset: Fraction) -> i32 {
        let here = (bar, onset);
        let octaves = self.octaves.iter().filter(|line| line.from <= here && here < line.to);
        octaves.map(|line| if let LineKind::Octaves(octaves) = line.kind { i32::from(octaves) } else { 0 }).sum()
    }
}

/// Adds a staff's marks from the staff outwards: octave lines, then one row of dynamics, hairpins and words on either
/// side, then what stands in rows of its own.
pub(super) fn add(score: &Score, staff: StaffId, lines: &Lines, skyline: &mut Skyline) {
    let family = score.part_of(staff).map(|part| part.family).unwrap_or_default();
    let usual = if family == Family::Voices { Where::Above } else { Where::Below };
    let (mut above, mut below, mut outer) = (Vec::new(), Vec::new(), Vec::new());
    let mut into_row = |side: Where, item: (Run, f32)| match side {
        Where::Above => above.push(item),
        Where::Below => below.push(item),
    };
    for line in &lines.all {
        let first = skyline.part(line.from.0, line.from.1);
        let run = Run { first, last: skyline.part_before(line.to.0, line.to.1).max(first) };
        match line.kind {
            LineKind::Hairpin => into_row(side(line.above, usual), (run, HAIRPIN)),
            LineKind::Other => into_row(side(line.above, Where::Above), (run, DASHES)),
            LineKind::Octaves(octaves) => {
                skyline.stack(if octaves < 0 { Where::Below } else { Where::Above }, run, OCTAVE_LINE);
            }
        }
    }
    for_each_mark(score, staff, |bar, mark| {
        let letters = |text: &str, height| (skyline.run(bar, mark.onset, letters(text) * LETTER), height);
        let sign = |width, height| (skyline.run(bar, mark.onset, width), height);
        match &mark.kind {
            MarkKind::Dynamic(text) => into_row(side(mark.above, usual), letters(text, DYNAMIC)),
            MarkKind::Words(text) => into_row(side(mark.above, Where::Above), letters(text, WORDS)),
            MarkKind::PedalStart | MarkKind::PedalStop => {
                outer.push((side(mark.above, Where::Below), sign(2.0, PEDAL)));
            }
            MarkKind::Figures(rows) => {
                outer.push((side(mark.above, Where::Below), sign(1.0, f32::from(*rows) * FIGURES_ROW)));
            }
            MarkKind::ChordSymbol => outer.push((side(mark.above, Where::Above), sign(3.0, CHORD_SYMBOL))),
            _ => {}
        }
    });
    skyline.stack_row(Where::Above, &above);
    skyline.stack_row(Where::Below, &below);
    for (side, (run, height)) in outer {
        skyline.stack(side, run, height);
    }
}

fn for_each_mark(score: &Score, staff: StaffId, mut act: impl FnMut(BarIdx, &StaffMark)) {
    for bar in (0..score.bars.len()).map(|bar| BarIdx(bar as u32)) {
        let marks = score.cell(bar, staff).map_or(&[][..], |cell| &cell.marks);
        marks.iter().for_each(|mark| act(bar, mark));
    }
}

fn side(above: Option<bool>, usual: Where) -> Where {
    match above {
        Some(true) => Where::Above,
        Some(false) => Where::Below,
        None => usual,
    }
}

fn letters(text: &str) -> f32 {
    text.chars().count() as f32
}

/// System marks with each staff that they are printed over.
pub(super) fn over_staves(score: &Score) -> Vec<(StaffId, &SystemMark)> {
    score.marks.iter().flat_map(|mark| mark.over.iter().map(move |staff| (*staff, mark))).collect()
}

/// Adds a mark that stands over the system, at a staff that it is printed over.
pub(super) fn add_over_system(mark: &SystemMark, skyline: &mut Skyline) {
    let (height, width) = match &mark.kind {
        SystemMarkKind::Rehearsal(text) => (REHEARSAL, letters(text) * 2.0),
        SystemMarkKind::Tempo { words, metronome, .. } => {
            let count = metronome.as_ref().map_or(0.0, |mark| 4.0 + letters(&mark.per_minute));
            (TEMPO, (letters(words) + count) * TEMPO_LETTER)
        }
        SystemMarkKind::TempoMoves(text) | SystemMarkKind::Jump(text) => (TEMPO, letters(text) * TEMPO_LETTER),
        SystemMarkKind::GeneralPause => (TEMPO, 4.0),
    };
    let run = skyline.run(mark.bar, mark.onset, width);
    skyline.stack(Where::Above, run, height);
}
