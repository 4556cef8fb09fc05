//! Natural widths of bars, in staff spaces, before a line is filled.

use std::collections::BTreeSet;

use rastrum::units::Spaces;

use crate::orchestra::ALL_STAVES;
use crate::score::{Kind, Movement, QUARTER};

/// Room for barlines, the metre where it changes, and repeat dots.
const BARLINE: f64 = 1.7;
const METRE: f64 = 3.0;
const REPEAT: f64 = 1.8;
const EMPTY_BAR: f64 = 7.0;
const GRACE_NOTE: f64 = 0.85;

/// Each note value takes about 1.4 times the room of the next shorter one; a quarter takes 3.5 spaces.
pub fn natural_width(movement: &Movement, bar: usize) -> Spaces {
    let head = movement.head(bar);
    let mut onsets = BTreeSet::from([0, head.units()]);
    let mut graces = 0;
    for voice in (0..ALL_STAVES).flat_map(|staff| &movement.cell(bar, staff).voices) {
        let mut at = 0;
        for item in voice.iter().filter(|item| item.kind != Kind::BarRest) {
            graces += u32::from(item.units == 0);
            onsets.insert(at);
            at += item.units;
        }
    }
    let onsets: Vec<u32> = onsets.into_iter().collect();
    let room = |gap: u32| (3.5 * (f64::from(gap) / f64::from(QUARTER)).sqrt()).max(1.8);
    let notes: f64 = onsets.windows(2).map(|pair| room(pair[1] - pair[0])).sum();
    let metre_changes = bar > 1 && movement.head(bar - 1).metre != head.metre;
    let changes = if metre_changes { METRE } else { 0.0 };
    let repeats = if head.repeat_starts || head.repeat_stops { REPEAT } else { 0.0 };
    Spaces(notes.max(EMPTY_BAR) + BARLINE + GRACE_NOTE * f64::from(graces.min(2)) + changes + repeats)
}
