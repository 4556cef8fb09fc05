//! Whether a part that was written and read again has the music of the player's line: what is compared and what is not.
//!
//! Not compared: the order of voices and their numbers, stems, places on paper, rests (they are what no chord fills),
//! and which staff of the score a mark for all was printed over.

use rastrum::place::{BarIdx, StaffId};
use rastrum::players::Player;
use rastrum::score::{Cell, Event, EventKind, MarkKind, Note, Position, Score, Signs, Stem, SystemMarkKind};

/// Where the copy `read` differs from the player's line, said of the first bar that does; `None` when nowhere.
/// `first` is the bar of the line that the copy begins with.
pub fn difference(player: &Player, first: BarIdx, read: &Score) -> Option<String> {
    let line = &player.music;
    // What stands at a chord is known of the whole chord only: of a part of it, whether there is any.
    let counted = player.number.is_none();
    if line.staves.len() != read.staves.len() {
        return Some(format!("{} staves, not {}", read.staves.len(), line.staves.len()));
    }
    for at in 0..read.bars.len() as u32 {
        let (bar, copy) = (BarIdx(first.0 + at), BarIdx(at));
        let (Some(wanted), Some(found)) = (line.bar(bar), read.bar(copy)) else { return Some(format!("no bar {at}")) };
        let ends = |bar: &rastrum::score::Bar| (bar.label.clone(), bar.metre.clone(), bar.left, bar.right);
        if ends(wanted) != ends(found) {
            return Some(format!("bar {at}: {:?}, not {:?}", ends(found), ends(wanted)));
        }
        for staff in (0..line.staves.len() as u16).map(StaffId) {
            let (Some(wanted), Some(found)) = (line.cell(bar, staff), read.cell(copy, staff)) else { continue };
            let difference = cells(wanted, found, &for_all(read, copy), counted);
            if let Some(difference) = difference {
                return Some(format!("bar {at}, staff {}: {difference}", staff.0 + 1));
            }
        }
        let printed = |score, bar| for_all(score, bar);
        let (wanted, found) = (printed(line, bar), printed(read, copy));
        if let Some(lost) = wanted.iter().find(|mark| !found.contains(mark)) {
            return Some(format!("bar {at}: {lost} is lost of {wanted:?}, found {found:?}"));
        }
    }
    None
}

/// Printed marks for all: onset and what they say.
fn for_all(score: &Score, bar: BarIdx) -> Vec<String> {
    let printed = score.marks.iter().filter(|mark| mark.bar == bar && !mark.over.is_empty());
    let text = |kind: &SystemMarkKind| match kind {
        SystemMarkKind::Tempo { words, metronome: None, .. } => format!("words {words}"),
        SystemMarkKind::Tempo { words, metronome: Some(mark), .. } => format!("words {words} {mark:?}"),
        other => format!("{other:?}"),
    };
    printed.map(|mark| format!("{} {}", mark.onset, text(&mark.kind))).collect()
}

fn cells(wanted: &Cell, found: &Cell, for_all: &[String], counted: bool) -> Option<String> {
    let state = |cell: &Cell| {
        format!("{:?} {:?} {:?} {:?} {}", cell.clef, cell.clef_changes, cell.key, cell.transposition, cell.slashes)
    };
    if state(wanted) != state(found) || wanted.repeats_previous != found.repeats_previous {
        return Some(format!("{}, not {}", state(found), state(wanted)));
    }
    // A fermata over another staff is given to who has none.
    let paused = wanted.events.iter().any(|event| event.fermata);
    let (old, new) = (chords(wanted, counted, paused), chords(found, counted, paused));
    if old != new {
        let other = old.iter().zip(&new).find(|(old, new)| old != new);
        return Some(format!("{} chords of {}; first: {other:?}", new.len(), old.len()));
    }
    let (old, new) = (marks(wanted, counted), marks(found, counted));
    // Tempo words over a lower staff of the score are words of that staff; over a part's only staff they are for all.
    let lost = old.iter().find(|mark| !new.contains(mark) && !for_all.contains(mark));
    let gained = new.iter().find(|mark| !old.contains(mark));
    lost.map(|mark| format!("{mark} is lost")).or(gained.map(|mark| format!("{mark} is new")))
}

/// Figures belong to the note above them, and with it to one of those who share a staff.
fn marks(cell: &Cell, figures: bool) -> Vec<String> {
    let text = |kind: &MarkKind| match kind {
        MarkKind::Words(words) => format!("words {words}"),
        other => format!("{other:?}"),
    };
    let compared = cell.marks.iter().filter(|mark| figures || !matches!(mark.kind, MarkKind::Figures(_)));
    compared.map(|mark| format!("{} {}", mark.onset, text(&mark.kind))).collect()
}

/// Chords in an order of their own, without what is not compared.
fn chords(cell: &Cell, counted: bool, paused: bool) -> Vec<String> {
    let plain = |note: &Note| Note { nth: None, ..note.clone() };
    let mut chords: Vec<String> = cell
        .events
        .iter()
        .filter_map(|event| match &event.kind {
            EventKind::Chord(notes) => {
                let kind = EventKind::Chord(notes.iter().map(plain).collect());
                let (voice, stem, at, nth) = (0, Stem::Unknown, Position::default(), None);
                let mut event = Event { kind, voice, stem, at, nth, ..event.clone() };
                event.fermata &= paused;
                if !counted {
                    event.signs = Signs::NONE;
                    event.articulations = event.articulations.min(1);
                    event.ornaments = event.ornaments.min(1);
                    event.slurs.starts = event.slurs.starts.min(1);
                    event.slurs.stops = event.slurs.stops.min(1);
                }
                Some(format!("{:09.4} {event:?}", event.onset.to_f64()))
            }
            EventKind::Rest { .. } => None,
        })
        .collect();
    chords.sort();
    chords
}
