//! How much there is to read: one bar of one staff is one cell.

use super::printed::Printed;
use crate::layout::Layout;
use crate::place::{BarIdx, StaffId};
use crate::score::{Bar, Cell, Event, EventKind, Grace, MarkKind, Note, Score, SystemMark, SystemMarkKind};
use crate::units::Mm;

/// What each symbol weighs against a notehead or a rest, which weigh 1. The weights are proposed, not published.
mod weight {
    pub const ACCIDENTAL: f32 = 1.0;
    pub const GRACE: f32 = 0.7;
    pub const DOT: f32 = 0.3;
    pub const ARTICULATION: f32 = 0.5;
    pub const CURVE: f32 = 0.7;
    pub const DYNAMIC: f32 = 1.0;
    pub const HAIRPIN: f32 = 0.7;
    pub const TUPLET: f32 = 0.5;
    pub const LETTER: f32 = 0.15;
    pub const SYLLABLE_LETTER: f32 = 0.2;
    pub const SIGN: f32 = 1.0;
}

/// The density grid.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Density {
    pub staves: usize,
    /// Bar by bar, each bar's staves from the top: `bars * staves` cells.
    pub cells: Vec<CellDensity>,
}

/// What there is to read in one bar of one staff.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CellDensity {
    /// Weighted symbols: noteheads, rests, accidentals, marks, text.
    pub symbols: f32,
    /// Symbols per 100 spaces of staff at the bar's printed width; `None` when it is silent or not on a page, and in an
    /// outline, whose notes are not written yet.
    pub per_100_spaces: Option<f32>,
    pub sounds: bool,
}

impl Density {
    #[must_use]
    pub fn cell(&self, bar: BarIdx, staff: StaffId) -> CellDensity {
        if staff.at() >= self.staves {
            return CellDensity::default();
        }
        self.cells.get(bar.at() * self.staves + staff.at()).copied().unwrap_or_default()
    }
}

/// Weighs every cell and spreads it over the width that it is printed at.
pub(super) fn density(score: &Score, layout: &Layout, printed: &Printed) -> Density {
    let staves = score.staves.len();
    let heights = staff_heights(score, layout);
    let mut cells = Vec::with_capacity(score.cells.len());
    for (at, bar) in score.bars.iter().enumerate() {
        let place = printed.at(BarIdx(at as u32));
        for staff in 0..staves {
            let Some(cell) = score.cells.get(at * staves + staff) else { break };
            let sounds = cell.sounds();
            let is_written = sounds && cell.sketch.is_none();
            let height = place.and_then(|place| heights.get(place.system_of_all * staves + staff).copied().flatten());
            let spaces = place.zip(height).map(|(place, height)| place.width.in_spaces(height).0);
            let symbols = symbols(cell, bar);
            cells.push(CellDensity { symbols, per_100_spaces: None, sounds });
            if let (Some(last), Some(spaces)) = (cells.last_mut(), spaces.filter(|spaces| is_written && *spaces > 0.0))
            {
                // A share for now: marks over the system still come.
                last.per_100_spaces = Some(100.0 / spaces as f32);
            }
        }
    }
    add_system_marks(&score.marks, staves, &mut cells);
    for cell in &mut cells {
        cell.per_100_spaces = cell.per_100_spaces.map(|share| share * cell.symbols);
    }
    Density { staves, cells }
}

/// By system in reading order, then by staff; `None` where a staff is not shown.
fn staff_heights(score: &Score, layout: &Layout) -> Vec<Option<Mm>> {
    let staves = score.staves.len();
    let mut heights = Vec::new();
    for (nth, (_, _, system)) in layout.systems().enumerate() {
        heights.resize((nth + 1) * staves, None);
        for staff in &system.staves {
            let slot = staff.staff.filter(|id| id.at() < staves).map(|id| nth * staves + id.at());
            if let Some(height) = slot.and_then(|slot| heights.get_mut(slot)) {
                *height = Some(staff.height);
            }
        }
    }
    heights
}

fn symbols(cell: &Cell, bar: &Bar) -> f32 {
    let mut sum = 0.0;
    let mut last: Vec<&Event> = Vec::new();
    for event in cell.events.iter().filter(|event| event.printed) {
        let before = last.iter().position(|other| other.voice == event.voice);
        let repeats = before.and_then(|at| last.get(at)).is_some_and(|before| repeats(before, event));
        sum += event_symbols(event, repeats);
        match before.and_then(|at| last.get_mut(at)) {
            Some(slot) => *slot = event,
            None => last.push(event),
        }
    }
    sum += cell.marks.iter().map(|mark| mark_symbols(&mark.kind)).sum::<f32>();
    let signs = cell.clef_changes.len() + usize::from(cell.key_changes) + usize::from(bar.metre_changes);
    sum + weight::SIGN * (signs + usize::from(cell.repeats_previous) + usize::from(cell.slashes)) as f32
}

/// The same notes again at the same value are taken in at one glance.
fn repeats(before: &Event, event: &Event) -> bool {
    let (EventKind::Chord(old), EventKind::Chord(new)) = (&before.kind, &event.kind) else { return false };
    before.value == event.value
        && before.grace == Grace::No
        && event.grace == Grace::No
        && old.len() == new.len()
        && old.iter().zip(new).all(|(old, new)| old.pitch == new.pitch && !new.accidental)
}

fn event_symbols(event: &Event, repeats: bool) -> f32 {
    let head = if event.grace == Grace::No { 1.0 } else { weight::GRACE };
    let (heads, ties) = match &event.kind {
        EventKind::Rest { .. } => (1.0, 0),
        EventKind::Chord(_) if repeats => (0.0, 0),
        EventKind::Chord(notes) => {
            let accidentals = notes.iter().filter(|note| note.accidental).count();
            let ties = notes.iter().filter(|note: &&Note| note.tie_starts).count();
            (head * notes.len() as f32 + weight::ACCIDENTAL * accidentals as f32, ties)
        }
    };
    let dots = if repeats { 0.0 } else { weight::DOT * f32::from(event.value.dots) };
    let signs = u32::from(event.articulations) + u32::from(event.ornaments) + u32::from(event.fermata);
    let syllables = event.lyrics.iter().map(|syllable| syllable.text.chars().count()).sum::<usize>();
    heads
        + dots
        + weight::ARTICULATION * signs as f32
        + weight::CURVE * (u32::from(event.slurs.starts) as f32 + ties as f32)
        + if event.tuplet_starts { weight::TUPLET } else { 0.0 }
        + weight::SYLLABLE_LETTER * syllables as f32
}

fn mark_symbols(kind: &MarkKind) -> f32 {
    match kind {
        MarkKind::Dynamic(_) => weight::DYNAMIC,
        MarkKind::HairpinStart { .. } | MarkKind::OctaveLineStart { .. } | MarkKind::LineStart { .. } => {
            weight::HAIRPIN
        }
        MarkKind::Words(text) => text_symbols(text),
        MarkKind::PedalStart | MarkKind::PedalStop | MarkKind::ChordSymbol => weight::SIGN,
        MarkKind::Figures(rows) => f32::from(*rows),
        MarkKind::HairpinStop { .. } | MarkKind::OctaveLineStop { .. } | MarkKind::LineStop { .. } => 0.0,
    }
}

fn text_symbols(text: &str) -> f32 {
    weight::LETTER * text.chars().count() as f32
}

/// Tempo words and rehearsal marks are read at each staff that they are printed over.
fn add_system_marks(marks: &[SystemMark], staves: usize, cells: &mut [CellDensity]) {
    for mark in marks {
        let symbols = match &mark.kind {
            SystemMarkKind::Tempo { words, metronome, .. } => {
                text_symbols(words) + if metronome.is_some() { weight::SIGN } else { 0.0 }
            }
            SystemMarkKind::TempoMoves(text) | SystemMarkKind::Jump(text) => text_symbols(text),
            SystemMarkKind::Rehearsal(_) | SystemMarkKind::GeneralPause => weight::SIGN,
        };
        for staff in mark.over.iter().filter(|staff| staff.at() < staves) {
            if let Some(cell) = cells.get_mut(mark.bar.at() * staves + staff.at()) {
                cell.symbols += symbols;
            }
        }
    }
}
