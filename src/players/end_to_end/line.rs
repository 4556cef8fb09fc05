//! What a line does in each bar: whether it sounds, from when to when, how loud, how high.

use super::loudness;
use crate::place::{BarIdx, BarSpan};
use crate::score::{Cell, Event, EventKind, Note, Pitch, Score};
use crate::units::Fraction;

/// One bar of a line.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct LineBar {
    pub sounds: bool,
    /// Where its first note begins and its last one ends, in quarters; 0 and the bar's length where a sign stands for
    /// notes.
    pub first: Fraction,
    pub ends: Fraction,
    /// In force at the bar's start.
    pub loudness: Option<i8>,
    /// In force at the first note.
    pub at_first: Option<i8>,
    /// Lowest and highest written pitch.
    pub range: Option<(Pitch, Pitch)>,
}

/// A whole score as one line: what a player reads.
pub(super) fn whole(score: &Score) -> Vec<LineBar> {
    let staves: Vec<usize> = vec![0; score.staves.len()];
    lines(score, &staves, 1).pop().unwrap_or_default()
}

/// Each part as a line, all in one walk.
pub(super) fn of_parts(score: &Score) -> Vec<Vec<LineBar>> {
    let staves: Vec<usize> = score.staves.iter().map(|staff| staff.part.at()).collect();
    lines(score, &staves, score.parts.len())
}

/// `line_of`: which line each staff belongs to.
fn lines(score: &Score, line_of: &[usize], count: usize) -> Vec<Vec<LineBar>> {
    let mut lines: Vec<Vec<LineBar>> = vec![Vec::with_capacity(score.bars.len()); count];
    let mut told = vec![None; count];
    let mut cells: Vec<Vec<&Cell>> = vec![Vec::new(); count];
    for (bar, row) in (0..).map(BarIdx).zip(score.cells.chunks(score.staves.len().max(1))) {
        cells.iter_mut().for_each(Vec::clear);
        for (cell, line) in row.iter().zip(line_of) {
            if let Some(cells) = cells.get_mut(*line) {
                cells.push(cell);
            }
        }
        let length = score.bar(bar).map_or(Fraction::ZERO, |contents| contents.length);
        let begins = score.movements.iter().any(|movement| movement.bars.first == bar);
        for ((line, told), cells) in lines.iter_mut().zip(&mut told).zip(&cells) {
            if begins {
                *told = None;
            }
            line.push(line_bar(cells, length, told));
        }
    }
    lines
}

fn line_bar(cells: &[&Cell], length: Fraction, told: &mut Option<i8>) -> LineBar {
    let mut bar = LineBar { loudness: loudness::until(cells, Fraction::ZERO, *told), ..LineBar::default() };
    bar.sounds = cells.iter().any(|cell| cell.sounds());
    if bar.sounds {
        let mut first = None;
        for event in cells.iter().flat_map(|cell| played(cell)) {
            first = Some(first.map_or(event.onset, |first: Fraction| first.min(event.onset)));
            bar.ends = bar.ends.max(end_of(event));
            for note in notes_of(event).iter().filter(|note| !note.unpitched) {
                let (low, high) = bar.range.unwrap_or((note.pitch, note.pitch));
                bar.range = Some((low.min(note.pitch), high.max(note.pitch)));
            }
        }
        if first.is_none() {
            bar.ends = length;
        }
        bar.first = first.unwrap_or_default();
        bar.at_first = loudness::until(cells, bar.first, *told);
    }
    *told = loudness::until(cells, length, *told);
    bar
}

/// What a player plays in a cell: chords but cues.
pub(super) fn played(cell: &Cell) -> impl Iterator<Item = &Event> {
    cell.events.iter().filter(|event| !event.cue && matches!(event.kind, EventKind::Chord(_)))
}

/// The notes of a chord; none of a rest.
pub(super) fn notes_of(event: &Event) -> &[Note] {
    match &event.kind {
        EventKind::Chord(notes) => notes,
        EventKind::Rest { .. } => &[],
    }
}

pub(super) fn end_of(event: &Event) -> Fraction {
    event.onset.checked_add(event.length).unwrap_or(event.onset)
}

/// Runs of bars that sound, or of bars that do not, cut where a movement begins.
pub(super) fn runs(score: &Score, line: &[LineBar], sounding: bool) -> Vec<BarSpan> {
    let mut runs: Vec<BarSpan> = Vec::new();
    let mut firsts = score.movements.iter().map(|movement| movement.bars.first).peekable();
    let mut goes_on = false;
    for (bar, contents) in (0..).map(BarIdx).zip(line) {
        let begins = firsts.next_if(|first| *first <= bar).is_some();
        let wanted = contents.sounds == sounding;
        match runs.last_mut() {
            Some(run) if wanted && goes_on && !begins => run.last = bar,
            _ if wanted => runs.push(BarSpan::one(bar)),
            _ => {}
        }
        goes_on = wanted;
    }
    runs
}
