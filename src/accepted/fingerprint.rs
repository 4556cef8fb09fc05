//! What an acceptance rests on: the notes at a finding's place, or the fact itself.

use std::fmt;

use crate::place::{BarSpan, StaffId};
use crate::rules::{Finding, Scope};
use crate::score::{Busyness, Cell, Event, EventKind, Score};

/// Sixty-four bits that change when the music does; the same on every machine and in every version.
///
/// Written as sixteen hexadecimal digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Fingerprint(u64);

/// FNV-1a (Fowler, Noll, Vo: public domain), 64 bits.
const OFFSET_BASIS: u64 = 0xcbf2_9ce4_8422_2325;
const PRIME: u64 = 0x0000_0100_0000_01b3;

impl Fingerprint {
    /// Of what a finding is about: for the whole work the value found; for a page or a system, which move, the notes
    /// at the bar that it hangs on; for bars their notes, at all places.
    #[must_use]
    pub fn of(finding: &Finding, score: &Score) -> Fingerprint {
        let staves = finding.places.first().map_or(&[][..], |place| place.staves.as_slice());
        let anchor = finding.key.anchor.and_then(|anchor| score.bar_at(anchor)).map(BarSpan::one);
        let mut print = Fingerprint(OFFSET_BASIS);
        match (finding.key.scope, anchor) {
            (Scope::Page | Scope::System, Some(bar)) => print.take_music(score, bar, staves),
            (Scope::Bar, _) => {
                for place in &finding.places {
                    place.bars.into_iter().for_each(|bars| print.take_music(score, bars, &place.staves));
                }
            }
            (Scope::Work, _) | (_, None) => print.take(finding.found.as_bytes()),
        }
        print
    }

    /// Of words: what two sides say.
    #[must_use]
    pub fn of_words(words: &[&str]) -> Fingerprint {
        let mut print = Fingerprint(OFFSET_BASIS);
        for word in words {
            print.take(word.as_bytes());
            print.take(b"|");
        }
        print
    }

    /// The fingerprint that sixteen hexadecimal digits stand for.
    #[must_use]
    pub fn read(text: &str) -> Option<Fingerprint> {
        let plain = text.len() == 16 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
        if plain { u64::from_str_radix(text, 16).ok().map(Fingerprint) } else { None }
    }

    /// The notes of some bars on some staves (all when empty): onsets, lengths and written pitches. How a file numbers
    /// its voices, and everything that is not a note, is left out.
    fn take_music(&mut self, score: &Score, bars: BarSpan, staves: &[StaffId]) {
        let all: Vec<StaffId> = (0..score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId).collect();
        let staves = if staves.is_empty() { &all } else { staves };
        for bar in bars.iter().take(score.bars.len()) {
            for staff in staves {
                if let Some(cell) = score.cell(bar, *staff) {
                    self.take_cell(cell);
                }
                self.take(b"|");
            }
            self.take(b"\n");
        }
    }

    fn take(&mut self, bytes: &[u8]) {
        self.0 = bytes.iter().fold(self.0, |print, byte| (print ^ u64::from(*byte)).wrapping_mul(PRIME));
    }

    fn take_cell(&mut self, cell: &Cell) {
        if cell.repeats_previous {
            self.take(b"%");
        }
        if cell.slashes {
            self.take(b"/");
        }
        if let Some(sketch) = cell.sketch {
            self.take(sketch.busyness().map_or("rests", Busyness::word).as_bytes());
        }
        let mut notes: Vec<String> = cell.events.iter().flat_map(notes_of).collect();
        notes.sort_unstable();
        for note in notes {
            self.take(note.as_bytes());
            self.take(b" ");
        }
    }
}

/// Onset, length and pitch of each note of a chord; nothing of a rest.
fn notes_of(event: &Event) -> Vec<String> {
    let EventKind::Chord(notes) = &event.kind else { return Vec::new() };
    let written = notes.iter().map(|note| {
        let pitch = note.pitch;
        format!("{}+{}:{}.{}.{}", event.onset, event.length, pitch.octave, pitch.step, pitch.alter)
    });
    written.collect()
}

impl fmt::Display for Fingerprint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:016x}", self.0)
    }
}
