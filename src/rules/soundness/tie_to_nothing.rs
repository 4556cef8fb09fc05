//! Ties that no note follows.

use std::collections::BTreeSet;

use super::gathered::At;
use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::rules::{Case, Outcome, Rule};
use crate::score::{Cell, Event, EventKind, Grace, Note};
use crate::units::Fraction;

/// A tie leads to the same note.
pub(in crate::rules) struct TieToNothing {
    weight: Weight,
}

impl Rule for TieToNothing {
    const NAME: &'static str = "tie-to-nothing";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(TieToNothing { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let mut loose: Vec<At> = Vec::new();
        for part in (0..case.score.parts.len()).filter_map(|at| u16::try_from(at).ok()).map(PartId) {
            let staves: Vec<StaffId> = case.score.staves_of(part).collect();
            for movement in &case.score.movements {
                in_movement(case, &staves, movement.bars, &mut loose);
            }
        }
        loose.sort_by_key(|(staff, bar)| (*bar, *staff));
        loose.dedup();
        let finding =
            case.gathered(Self::NAME, self.weight, &loose, "Ties that lead to no note", "the same note after it");
        Outcome::Ran(finding.into_iter().collect())
    }
}

/// A pitch, written: staff steps and quarter tones.
type Heard = (BarIdx, Fraction, i32);

fn in_movement(case: &Case<'_>, staves: &[StaffId], bars: BarSpan, loose: &mut Vec<At>) {
    let score = case.score;
    let cells = || bars.iter().flat_map(|bar| staves.iter().map(move |staff| (bar, *staff)));
    let mut begins: BTreeSet<Heard> = BTreeSet::new();
    for (bar, staff) in cells() {
        let Some(cell) = score.cell(bar, staff) else { continue };
        // Before a bar-repeat sign the notes go on that stand before it.
        for (event, note) in notes(cell).filter(|(event, _)| event.grace == Grace::No) {
            begins.insert((bar, event.onset, note.pitch.quarter_tones()));
        }
    }
    for (bar, staff) in cells() {
        let (Some(cell), Some(own)) = (score.cell(bar, staff), score.bar(bar)) else { continue };
        let next = BarIdx(bar.0 + 1);
        // Over a repeat the note may follow anywhere.
        let jumps = own.right.repeat
            || own.ending.is_some()
            || score.bar(next).is_some_and(|next| next.ending.is_some() || next.left.repeat)
            || !bars.contains(next);
        let goes_on = score.cell(next, staff).is_some_and(|cell| cell.repeats_previous || cell.slashes);
        for (event, note) in notes(cell).filter(|(_, note)| note.tie_starts) {
            let Some(end) = event.onset.checked_add(event.length) else { continue };
            let over = end >= own.length;
            let to = if over { (next, Fraction::ZERO) } else { (bar, end) };
            let found = begins.contains(&(to.0, to.1, note.pitch.quarter_tones()));
            if !found && !(over && (jumps || goes_on)) && event.grace == Grace::No {
                loose.push((staff, bar));
            }
        }
    }
}

fn notes(cell: &Cell) -> impl Iterator<Item = (&Event, &Note)> {
    cell.events.iter().filter(|event| event.printed).flat_map(|event| {
        let chord = if let EventKind::Chord(notes) = &event.kind { notes.as_slice() } else { &[] };
        chord.iter().map(move |note| (event, note))
    })
}
