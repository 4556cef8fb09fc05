//! One bar as the player hears it: own printed notes at sounding pitch, bar-repeat signs played out.

use crate::score::{Cell, Event, EventKind, Grace, Pitch, Score};
use crate::units::Fraction;

/// A note of the player's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct HeardNote {
    /// From the start of the bar, in quarters.
    pub onset: Fraction,
    /// Place among the grace notes before the same onset, from 1; 0 for notes with a length.
    pub grace: u16,
    /// Sounding, twice the key number of MIDI; where unpitched notes stand counts from far above.
    pub height: i32,
    pub length: Fraction,
    pub tie_starts: bool,
    pub tie_stops: bool,
    /// Sounding and spelt; for unpitched notes where it stands.
    pub sounding: Pitch,
}

/// What is compared of a note.
pub(super) type NoteKey = (Fraction, u16, i32, Fraction);

/// No pitch is as high.
const UNPITCHED: i32 = 10_000;

impl HeardNote {
    pub fn key(&self) -> NoteKey {
        (self.onset, self.grace, self.height, self.length)
    }

    /// Placed by line, not by pitch.
    pub fn is_unpitched(&self) -> bool {
        self.height >= UNPITCHED
    }
}

/// One bar of one side.
#[derive(Clone, Debug, Default)]
pub(super) struct Heard<'a> {
    /// Own printed events of all staves, with the cells they stand in; of an earlier bar where a sign repeats it.
    pub events: Vec<(&'a Event, &'a Cell)>,
    /// Of each event the staff, counted from 0 at the part's top.
    pub staves: Vec<u8>,
    /// In order, each once however many voices play it.
    pub notes: Vec<HeardNote>,
    /// Filled with slashes, or with a bar-repeat sign that repeats nothing: notes that are not written.
    pub unwritten: bool,
}

impl Heard<'_> {
    /// Nothing to play.
    pub fn is_silent(&self) -> bool {
        self.notes.is_empty() && !self.unwritten
    }
}

/// The bars of a score of one player, from the first.
pub(super) fn bars(music: &Score, first: usize, count: usize) -> Vec<Heard<'_>> {
    let staves = music.staves.len().max(1);
    let mut repeated: Vec<Vec<(&Event, &Cell)>> = vec![Vec::new(); staves];
    let mut heard = Vec::with_capacity(count);
    for bar in first..first + count {
        let cells = music.cells.get(bar * staves..(bar + 1) * staves).unwrap_or_default();
        let mut own = Heard::default();
        for (staff, (cell, before)) in (0_u8..).zip(cells.iter().zip(&mut repeated)) {
            let written: Vec<(&Event, &Cell)> =
                cell.events.iter().filter(|event| event.printed && !event.cue).map(|event| (event, cell)).collect();
            let plays = written.iter().any(|(event, _)| matches!(event.kind, EventKind::Chord(_)));
            own.unwritten |= !plays && cell.slashes;
            if plays || !cell.repeats_previous {
                *before = written;
            }
            own.unwritten |= cell.repeats_previous && before.is_empty();
            own.events.extend(before.iter().copied());
            own.staves.resize(own.events.len(), staff);
        }
        own.notes = notes(&own.events);
        heard.push(own);
    }
    heard
}

/// The printed own notes of one cell.
pub(super) fn notes_of(cell: &Cell) -> Vec<HeardNote> {
    let events = cell.events.iter().filter(|event| event.printed && !event.cue);
    notes(&events.map(|event| (event, cell)).collect::<Vec<_>>())
}

fn notes(events: &[(&Event, &Cell)]) -> Vec<HeardNote> {
    let mut found: Vec<HeardNote> = Vec::new();
    let mut graces: Vec<(Fraction, u16, u16)> = Vec::new();
    for (event, cell) in events {
        let EventKind::Chord(chord) = &event.kind else { continue };
        let grace = if event.grace == Grace::No { 0 } else { nth_grace(event, &mut graces) };
        for note in chord {
            let (height, sounding) = if note.unpitched {
                (UNPITCHED + note.pitch.steps(), note.pitch)
            } else {
                let sounding = cell.transposition.sounding(note.pitch);
                (sounding.quarter_tones(), sounding)
            };
            found.push(HeardNote {
                onset: event.onset,
                grace,
                height,
                length: event.length,
                tie_starts: note.tie_starts,
                tie_stops: note.tie_stops,
                sounding,
            });
        }
    }
    found.sort();
    found.dedup_by(|next, kept| {
        let same = next.key() == kept.key();
        kept.tie_starts |= same && next.tie_starts;
        kept.tie_stops |= same && next.tie_stops;
        same
    });
    found
}

/// Grace notes of one voice before one onset are counted.
fn nth_grace(event: &Event, graces: &mut Vec<(Fraction, u16, u16)>) -> u16 {
    match graces.iter_mut().find(|(onset, voice, _)| (*onset, *voice) == (event.onset, event.voice)) {
        Some((.., count)) => {
            *count += 1;
            *count
        }
        None => {
            graces.push((event.onset, event.voice, 1));
            1
        }
    }
}

/// Neighbouring notes that a tie joins inside the bar, as one; what is played, however it is written.
pub(super) fn sounded(notes: &[HeardNote]) -> Vec<HeardNote> {
    let mut joined: Vec<HeardNote> = Vec::with_capacity(notes.len());
    for note in notes {
        let ends = |own: &&mut HeardNote| {
            let end = own.onset.checked_add(own.length);
            own.tie_starts && own.height == note.height && own.grace == 0 && end == Some(note.onset)
        };
        match joined.iter_mut().find(ends).filter(|_| note.tie_stops && note.grace == 0) {
            Some(own) => {
                own.length = own.length.checked_add(note.length).unwrap_or(own.length);
                own.tie_starts = note.tie_starts;
            }
            None => joined.push(*note),
        }
    }
    joined.sort();
    joined
}
