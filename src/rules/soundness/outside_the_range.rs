//! Notes that the instrument does not have.

use super::gathered::At;
use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, StaffId};
use crate::players::names::{self, Instrument};
use crate::rules::{Case, Outcome, Rule};
use crate::score::{Cell, Event, EventKind};

/// What is written can be played.
pub(in crate::rules) struct OutsideTheRange {
    weight: Weight,
}

impl Rule for OutsideTheRange {
    const NAME: &'static str = "outside-the-range";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(OutsideTheRange { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let mut found: Vec<At> = case.all_staves().flat_map(|staff| on_staff(case, staff)).collect();
        found.sort_by_key(|(staff, bar)| (*bar, *staff));
        let what = "Notes below or above what the instrument has, as sounding";
        Outcome::Ran(
            case.gathered(Self::NAME, self.weight, &found, what, "the instrument's range").into_iter().collect(),
        )
    }
}

/// Instrument, its own abbreviation where it is not the usual one, and lowest and highest sounding key number (MIDI,
/// middle C is 60). S. Adler, The Study of Orchestration, 3rd edition, 2002: ranges of professional players, quoted from
/// memory; string tops as far as orchestral parts go.
const RANGES: &[(Instrument, &str, i32, i32)] = {
    use Instrument::*;
    &[
        (Flute, "", 59, 98),
        (Flute, "picc", 74, 108),
        (Flute, "afl", 55, 91),
        (Oboe, "", 58, 93),
        (Oboe, "ca", 52, 84),
        (Clarinet, "", 49, 99),
        (Clarinet, "bcl", 34, 84),
        (Bassoon, "", 34, 77),
        (Bassoon, "cbn", 22, 60),
        (Horn, "", 33, 78),
        (Trumpet, "", 51, 88),
        (Trombone, "", 32, 77),
        (Tuba, "", 26, 67),
        (Timpani, "", 36, 60),
        (Harp, "", 23, 104),
        (ViolinI, "", 55, 105),
        (ViolinII, "", 55, 105),
        (Viola, "", 48, 93),
        (Cello, "", 36, 84),
        (DoubleBass, "", 24, 79),
    ]
};

fn on_staff(case: &Case<'_>, staff: StaffId) -> Vec<At> {
    let Some(part) = case.score.part_of(staff) else { return Vec::new() };
    let reading = names::read(part);
    // Who doubles has the range of both.
    if !reading.doublings.is_empty() || reading.also_bass {
        return Vec::new();
    }
    let other = reading.other.as_deref().unwrap_or_default();
    let own = RANGES.iter().find(|(instrument, name, ..)| *instrument == reading.instrument && *name == other);
    let Some((.., low, high)) = own else { return Vec::new() };
    let outside = |cell: &Cell| {
        let chords = cell.events.iter().filter(|event| !event.cue && event.printed);
        let harmonic = |event: &Event| event.signs.names().any(|name| name == "harmonic");
        chords.filter(|event| !harmonic(event)).any(|event| {
            let notes = if let EventKind::Chord(notes) = &event.kind { notes.as_slice() } else { &[] };
            notes.iter().filter(|note| !note.unpitched).any(|note| {
                let height = cell.transposition.sounding(note.pitch).quarter_tones();
                height < 2 * low || height > 2 * high
            })
        })
    };
    let bars = (0..case.score.bars.len()).map(|at| BarIdx(at as u32));
    bars.filter(|bar| case.score.cell(*bar, staff).is_some_and(outside)).map(|bar| (staff, bar)).collect()
}
