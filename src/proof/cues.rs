//! Cues of the part: what somebody plays there, at the player's own pitch, up to the bar before the entry; and cues of
//! the score that the part lost.

use std::collections::BTreeSet;

use super::side::{Both, Pairs, Side, Spot};
use super::{Class, Proof};
use crate::place::StaffId;
use crate::score::{Cell, EventKind};
use crate::units::Fraction;
use crate::words::counted;

/// A note whatever its octave: bar of the line, onset, quarter tones above C.
type Note = (usize, Fraction, i32);

/// Neighbouring bars with cues, as the part counts them.
#[derive(Clone, Copy)]
struct Run {
    first: usize,
    last: usize,
}

pub(super) fn compare(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    for run in runs(&both.part) {
        notes(both, pairs, run, found);
        entry(both, pairs, run, found);
    }
    for run in runs(&both.line) {
        let there = (run.first..=run.last).filter_map(|line| pairs.to_part.get(line).copied().flatten());
        let bars: Vec<usize> = there.collect();
        if !bars.is_empty() && !bars.iter().any(|part| has_cue(&both.part, *part)) {
            let spot = Spot { bars: both.line.span(run.first, run.last), part_bars: None, onset: None };
            found.differs(Class::Cue, spot, format!("{} of cue", counted(run.last - run.first + 1, "bar")), "no cue");
        }
    }
}

fn has_cue(side: &Side<'_>, at: usize) -> bool {
    side.cells(at).iter().any(|cell| cue_notes(cell).next().is_some())
}

fn runs(side: &Side<'_>) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for at in (0..side.count()).filter(|at| has_cue(side, *at)) {
        match runs.last_mut() {
            Some(run) if run.last + 1 == at => run.last = at,
            _ => runs.push(Run { first: at, last: at }),
        }
    }
    runs
}

/// Small printed notes at sounding pitch: onset, quarter tones above C.
fn cue_notes(cell: &Cell) -> impl Iterator<Item = (Fraction, i32)> {
    let small = cell.events.iter().filter(|event| event.cue && event.printed);
    small.flat_map(|event| heights(cell, event))
}

fn heights<'a>(cell: &'a Cell, event: &'a crate::score::Event) -> impl Iterator<Item = (Fraction, i32)> + 'a {
    const OCTAVE: i32 = 24;
    let chord = if let EventKind::Chord(notes) = &event.kind { notes.as_slice() } else { &[] };
    let pitched = chord.iter().filter(|note| !note.unpitched);
    pitched.map(move |note| (event.onset, cell.transposition.sounding(note.pitch).quarter_tones().rem_euclid(OCTAVE)))
}

fn notes(both: &Both<'_>, pairs: &Pairs, run: Run, found: &mut Proof) {
    let line = |part: usize| pairs.to_line.get(part).copied().flatten();
    let cells = (run.first..=run.last).filter_map(|part| Some((line(part)?, both.part.cells(part))));
    let wanted: BTreeSet<Note> = cells
        .flat_map(|(line, cells)| cells.iter().flat_map(cue_notes).map(move |(onset, height)| (line, onset, height)))
        .collect();
    let Some((first, last)) = wanted.first().zip(wanted.last()) else { return };
    // Small notes that the score has on the same staff, too.
    let own = (first.0..=last.0)
        .flat_map(|line| both.line.cells(line).iter().flat_map(cue_notes).map(move |note| (line, note.0, note.1)));
    if own.collect::<BTreeSet<Note>>().is_superset(&wanted) {
        return;
    }
    let (from, to) = (first.0, last.0);
    let others = (0..both.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
    let best = others
        .filter(|staff| !both.own_staves().contains(staff))
        .map(|staff| (played(both, staff, from, to).intersection(&wanted).count(), std::cmp::Reverse(staff)))
        .max();
    let Some((most, std::cmp::Reverse(staff))) = best else { return };
    if most == wanted.len() {
        return;
    }
    let spot =
        Spot { bars: both.line.span(from, to), part_bars: Some(both.part.span(run.first, run.last)), onset: None };
    let all = counted(wanted.len(), "note");
    if most * 2 < wanted.len() {
        found.differs(Class::Cue, spot, "nobody plays this", format!("a cue of {all}"));
        return;
    }
    let name = both.score.part_of(staff).map_or("", |part| part.name.as_str());
    let wrong = wanted.difference(&played(both, staff, from, to)).next().map_or(from, |note| note.0);
    let at = both.score.span_label(both.line.span(wrong, wrong));
    let told = format!("{} of {all} as there; the first other one in {at}", most);
    found.differs(Class::Cue, spot, format!("{name} plays"), told);
}

/// Whether a bar of the part has a cue that somebody plays in a bar of the line.
pub(super) fn is_played(both: &Both<'_>, line: usize, part: usize) -> bool {
    let wanted: BTreeSet<Note> =
        both.part.cells(part).iter().flat_map(cue_notes).map(|(onset, height)| (line, onset, height)).collect();
    if wanted.is_empty() {
        return false;
    }
    let staves = (0..both.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
    staves.into_iter().any(|staff| played(both, staff, line, line).is_superset(&wanted))
}

/// What a staff of the score plays in some bars of the line.
fn played(both: &Both<'_>, staff: StaffId, from: usize, to: usize) -> BTreeSet<Note> {
    let mut notes = BTreeSet::new();
    for line in from..=to {
        let Some(cell) = both.score.cell(both.line.idx(line), staff) else { continue };
        let own = cell.events.iter().filter(|event| event.printed && !event.cue);
        notes.extend(own.flat_map(|event| heights(cell, event)).map(|(onset, height)| (line, onset, height)));
    }
    notes
}

/// A cue runs up to the bar before the entry. Source: common practice.
fn entry(both: &Both<'_>, pairs: &Pairs, run: Run, found: &mut Proof) {
    let entry = (run.first..both.part.count()).find(|part| !both.part.is_silent(*part));
    let next = (run.last + 1..both.part.count()).find(|part| has_cue(&both.part, *part));
    let Some(entry) = entry.filter(|entry| *entry > run.last + 1 && next.is_none_or(|next| *entry <= next)) else {
        return;
    };
    let gap = entry - run.last - 1;
    let at = |part: usize| both.score.span_label(both.line.span(pairs.line_near(part), pairs.line_near(part)));
    let spot = Spot {
        bars: both.line.span(pairs.line_near(run.first), pairs.line_near(run.last)),
        part_bars: Some(both.part.span(run.first, run.last)),
        onset: None,
    };
    let told = format!("the cue ends {} before", counted(gap, "bar"));
    found.differs(Class::Cue, spot, format!("entry in {}", at(entry)), told);
}
