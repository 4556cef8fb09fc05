//! Bars that a shared staff leaves open: a part is right when it is one that the staff allows.

use std::collections::BTreeSet;

use super::heard::{self, HeardNote};
use super::side::Both;
use super::words::{InPart, beat};
use super::{Class, Proof};
use crate::words::listed;

/// Each note of the part must stand on the staff; which of them are the player's, nobody can say.
pub(super) fn compare(both: &Both<'_>, pair: (usize, usize), why: &str, found: &mut Proof) {
    let Some(part) = both.part.heard.get(pair.1) else { return };
    let allowed: BTreeSet<_> = staff_notes(both, pair.0).iter().map(HeardNote::key).collect();
    let strange: Vec<&HeardNote> = part.notes.iter().filter(|note| !allowed.contains(&note.key())).collect();
    let Some(first) = strange.first() else {
        let plays = if part.notes.is_empty() { "the part rests" } else { "the part plays" };
        Proof::tell(&mut found.cannot_tell, both.line.span(pair.0, pair.0), &format!("{why}; {plays}"));
        return;
    };
    let in_part = InPart::of(both, pair.1);
    let bar = both.line.bar(pair.0);
    let names = listed(strange.iter().map(|note| format!("{} on {}", in_part.pitch(note), beat(note.onset, bar))));
    let spot = both.pair(pair, Some(first.onset));
    found.differs(Class::ExtraNote, spot, "no such note on the shared staff", names);
}

/// All notes of the player's staves in the full score.
fn staff_notes(both: &Both<'_>, line: usize) -> Vec<HeardNote> {
    let bar = both.line.idx(line).at();
    let staves = both.score.staves.len();
    let cells = both.score.cells.get(bar * staves..(bar + 1) * staves).unwrap_or_default();
    let own = both.own_staves().iter().filter_map(|staff| cells.get(staff.at()));
    own.flat_map(heard::notes_of).collect()
}
