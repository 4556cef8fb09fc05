//! Staves that bear more rhythms at once than stems can tell apart.

use std::collections::{BTreeMap, BTreeSet};

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::{Cell, EventKind, Family, Grace};
use crate::units::Fraction;
use crate::words::listed;

/// Different rhythms at once on one staff.
pub(in crate::rules) struct TooManyOnAStaff {
    rhythms: Limit<u32>,
}

impl Rule for TooManyOnAStaff {
    const NAME: &'static str = "too-many-on-a-staff";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(TooManyOnAStaff { rhythms: limits.take("rhythms")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let staves = (0..case.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
        let shared = staves.filter(|staff| {
            // One player's hands and sticks may do as they like.
            let family = case.score.part_of(*staff).map(|part| part.family);
            !matches!(family, Some(Family::Keyboard | Family::Percussion))
        });
        Outcome::Ran(shared.filter_map(|staff| self.on_staff(case, staff)).collect())
    }
}

impl TooManyOnAStaff {
    /// One finding a staff, with all its bars.
    fn on_staff(&self, case: &Case<'_>, staff: StaffId) -> Option<Finding> {
        let bars = (0..case.score.bars.len()).map(|at| BarIdx(at as u32));
        let counted = bars.filter_map(|bar| Some((bar, rhythms(case.score.cell(bar, staff)?))));
        let many: Vec<(BarIdx, usize)> =
            counted.filter(|(_, rhythms)| *rhythms > self.rhythms.value as usize).collect();
        let (first, _) = many.first().copied()?;
        let most = many.iter().map(|(_, rhythms)| *rhythms).max()?;
        let at = listed(many.iter().map(|(bar, _)| case.bar_words(*bar)));
        let message = format!("{}: {most} rhythms at once on one staff at {at}.", case.staff_words(staff));
        let key = case.key(Self::NAME, Scope::Bar, Some(staff), Some(first));
        let places = many.iter().map(|(bar, _)| case.on_bars(BarSpan::one(*bar), &[staff])).collect();
        Some(Finding::beyond(&self.rhythms, key, format!("{most} rhythms")).at(places).says(message))
    }
}

/// How many rhythms that differ sound at once.
fn rhythms(cell: &Cell) -> usize {
    type Rhythm = Vec<(Fraction, Fraction)>;
    let mut voices: BTreeMap<u16, Rhythm> = BTreeMap::new();
    for event in &cell.events {
        let counts = event.printed && !event.cue && event.grace == Grace::No;
        if counts && matches!(event.kind, EventKind::Chord(_)) {
            voices.entry(event.voice).or_default().push((event.onset, event.length));
        }
    }
    let at_once = |onset: Fraction| {
        let sounding = voices.values().filter_map(|rhythm| {
            let note = rhythm.iter().rev().find(|(start, _)| *start <= onset)?;
            let end = note.0.checked_add(note.1)?;
            (end > onset).then_some(note)
        });
        sounding.collect::<BTreeSet<_>>().len()
    };
    voices.values().flatten().map(|(onset, _)| at_once(*onset)).max().unwrap_or(0)
}
