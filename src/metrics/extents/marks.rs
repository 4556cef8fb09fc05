//! Dynamics, hairpins, words and lines at the staff; tempo and rehearsal marks over it.

use super::skyline::{Run, Skyline, Where};
use crate::place::{BarIdx, StaffId};
use crate::score::{Family, MarkKind, Score, StaffMark, SystemMark, SystemMarkKind};
use crate::units::Fraction;

/// Heights with the air around them, in spaces (from memory).
const DYNAMIC: f32 = 2.2;
const HAIRPIN: f32 = 1.6;
const WORDS: f32 = 2.0;
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

/// Adds a staff's marks from the staff outwards: dynamics and hairpins, octave lines, words.
pub(super) fn add(score: &Score, staff: StaffId, lines: &Lines, skyline: &mut Skyline) {
    let family = score.part_of(staff).map(|part| part.family).unwrap_or_default();
    let usual = if family == Family::Voices { Where::Above } else { Where::Below };
    let inner = |mark: &StaffMark| matches!(mark.kind, MarkKind::Dynamic(_));
    for_each_mark(score, staff, |bar, mark| {
        if inner(mark) {
            add_mark(bar, mark, usual, skyline);
        }
    });
    for line in &lines.all {
        let (height, side) = match line.kind {
            LineKind::Hairpin => (HAIRPIN, side(line.above, usual)),
            LineKind::Octaves(octaves) => (OCTAVE_LINE, if octaves < 0 { Where::Below } else { Where::Above }),
            LineKind::Other => (WORDS / 2.0, side(line.above, Where::Above)),
        };
        let run =
            Run { first: skyline.part(line.from.0, line.from.1), last: skyline.part_before(line.to.0, line.to.1) };
        skyline.stack(side, Run { last: run.last.max(run.first), ..run }, height);
    }
    for_each_mark(score, staff, |bar, mark| {
        if !inner(mark) {
            add_mark(bar, mark, usual, skyline);
        }
    });
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

fn add_mark(bar: BarIdx, mark: &StaffMark, usual: Where, skyline: &mut Skyline) {
    let (side, height, width) = match &mark.kind {
        MarkKind::Dynamic(text) => (side(mark.above, usual), DYNAMIC, letters(text) * LETTER),
        MarkKind::Words(text) => (side(mark.above, Where::Above), WORDS, letters(text) * LETTER),
        MarkKind::PedalStart | MarkKind::PedalStop => (side(mark.above, Where::Below), PEDAL, 2.0),
        MarkKind::Figures(rows) => (side(mark.above, Where::Below), f32::from(*rows) * FIGURES_ROW, 1.0),
        MarkKind::ChordSymbol => (side(mark.above, Where::Above), CHORD_SYMBOL, 3.0),
        _ => return,
    };
    let run = skyline.run(bar, mark.onset, width);
    skyline.stack(side, run, height);
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
