//! Cues that run on while the player plays.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::rules::counting::cues::{cue_notes, own_notes};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::{Cell, Event};
use crate::words::listed;

/// A cue is over when the player begins.
pub(in crate::rules) struct CueCoversEntry {
    weight: Weight,
}

impl Rule for CueCoversEntry {
    const NAME: &'static str = "cue-covers-entry";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(CueCoversEntry { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let staves = (0..case.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
        let bars = || (0..case.score.bars.len()).filter_map(|at| u32::try_from(at).ok()).map(BarIdx);
        let cells = staves.flat_map(|staff| bars().map(move |bar| (bar, staff)));
        let covered: Vec<(BarIdx, StaffId)> =
            cells.filter(|(bar, staff)| case.score.cell(*bar, *staff).is_some_and(is_covered)).collect();
        let Some((bar, staff)) = covered.first() else { return Outcome::Ran(Vec::new()) };
        let at = listed(covered.iter().map(|(bar, _)| case.bar_words(*bar)));
        let place = |(bar, staff): &(BarIdx, StaffId)| case.on_bars(BarSpan::one(*bar), &[*staff]);
        let key = case.key(Self::NAME, Scope::Bar, Some(*staff), Some(*bar));
        let finding = Finding::unlimited(self.weight, key, "cue and own notes at once")
            .asks("a cue that ends where the player begins")
            .at(covered.iter().map(place).collect())
            .says(format!("A cue runs on over the player's own notes at {at}."));
        Outcome::Ran(vec![finding])
    }
}

/// Whether small and own notes sound at once.
fn is_covered(cell: &Cell) -> bool {
    cue_notes(cell).any(|cue| own_notes(cell).any(|own| overlap(cue, own)))
}

fn overlap(one: &Event, other: &Event) -> bool {
    let end = |event: &Event| event.onset.checked_add(event.length);
    let is_before = |first: &Event, then: &Event| end(first).is_some_and(|end| end <= then.onset);
    !one.length.is_zero() && !other.length.is_zero() && !is_before(one, other) && !is_before(other, one)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::quarter;

    #[test]
    fn a_cue_that_ends_where_the_entry_begins_does_not_cover_it() {
        let small = |beat| Event { cue: true, ..quarter("C5", beat) };
        assert!(!is_covered(&Cell { events: vec![small(0), small(1), quarter("G4", 2)], ..Cell::default() }));
        assert!(is_covered(&Cell { events: vec![small(1), small(2), quarter("G4", 2)], ..Cell::default() }));
    }
}
