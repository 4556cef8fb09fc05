//! Cues of a part: small notes of others, and the entry that they lead to.

use crate::place::{BarIdx, BarSpan, StaffId};
use crate::rules::Case;
use crate::score::{Cell, Event, EventKind, Score};

/// Neighbouring bars with cues on one staff and the bar of the player's next own notes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Cue {
    pub(super) staff: StaffId,
    pub(super) bars: BarSpan,
    /// `None` where the movement ends without another note.
    pub(super) entry: Option<BarIdx>,
}

impl Case<'_> {
    /// The cues of all staves, from the top and in order. Cues do not run on from one movement into the next.
    pub(super) fn cues(&self) -> Vec<Cue> {
        let staves = (0..self.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
        let movements = || self.score.movements.iter().map(|movement| movement.bars);
        staves.flat_map(|staff| movements().flat_map(move |bars| cues(self.score, staff, bars))).collect()
    }
}

fn cues(score: &Score, staff: StaffId, movement: BarSpan) -> Vec<Cue> {
    let mut found: Vec<Cue> = Vec::new();
    for bar in movement.iter() {
        let Some(cell) = score.cell(bar, staff) else { break };
        let sounds = cell.sounds();
        if cue_notes(cell).next().is_some() {
            match found.last_mut() {
                Some(cue) if cue.entry.is_none() && cue.bars.last.0.saturating_add(1) == bar.0 => cue.bars.last = bar,
                _ => found.push(Cue { staff, bars: BarSpan::one(bar), entry: None }),
            }
        }
        if sounds && let Some(cue) = found.last_mut() {
            cue.entry.get_or_insert(bar);
        }
    }
    found
}

/// Small notes, not small rests.
pub(super) fn cue_notes(cell: &Cell) -> impl Iterator<Item = &Event> {
    cell.events.iter().filter(|event| event.cue && event.printed && matches!(event.kind, EventKind::Chord(_)))
}

/// The player's own printed notes.
pub(super) fn own_notes(cell: &Cell) -> impl Iterator<Item = &Event> {
    cell.events.iter().filter(|event| !event.cue && event.printed && matches!(event.kind, EventKind::Chord(_)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::{put, quarter, score};
    use crate::score::Family;

    fn small(name: &str, beat: i64) -> Event {
        Event { cue: true, ..quarter(name, beat) }
    }

    #[test]
    fn a_cue_runs_over_neighbouring_bars_and_leads_to_the_next_own_note() {
        let mut score = score(&[("Horn", Family::Brass, 1)], 8);
        put(&mut score, 1, 0, vec![small("C5", 0)]);
        put(&mut score, 2, 0, vec![small("D5", 0)]);
        put(&mut score, 4, 0, vec![quarter("G4", 0)]);
        put(&mut score, 6, 0, vec![small("C5", 0)]);
        let all = score.all_bars().unwrap();
        let told = |first, last, entry: Option<u32>| Cue {
            staff: StaffId(0),
            bars: BarSpan::new(BarIdx(first), BarIdx(last)),
            entry: entry.map(BarIdx),
        };
        assert_eq!(cues(&score, StaffId(0), all), [told(1, 2, Some(4)), told(6, 6, None)]);
    }
}
