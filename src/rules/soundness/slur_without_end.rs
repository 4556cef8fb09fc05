//! Slurs that begin and never end, or end and never began.

use super::gathered::At;
use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarSpan, PartId, StaffId};
use crate::rules::{Case, Outcome, Rule};
use crate::score::Grace;
use crate::units::Fraction;

/// A slur has two ends.
pub(in crate::rules) struct SlurWithoutEnd {
    weight: Weight,
}

impl Rule for SlurWithoutEnd {
    const NAME: &'static str = "slur-without-end";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(SlurWithoutEnd { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let mut loose: Vec<At> = Vec::new();
        for part in (0..case.score.parts.len()).filter_map(|at| u16::try_from(at).ok()).map(PartId) {
            let staves: Vec<StaffId> = case.score.staves_of(part).collect();
            for movement in &case.score.movements {
                loose.extend(in_movement(case, &staves, movement.bars));
            }
        }
        loose.sort_by_key(|(staff, bar)| (*bar, *staff));
        let finding = case.gathered(Self::NAME, self.weight, &loose, "Slurs with one end only", "both ends");
        Outcome::Ran(finding.into_iter().collect())
    }
}

/// Slurs may run from staff to staff of a part; the file's numbers of them are not known here. So many are open at a
/// time: what is still open at the end was begun where it last rose from none.
fn in_movement(case: &Case<'_>, staves: &[StaffId], bars: BarSpan) -> Vec<At> {
    let mut loose = Vec::new();
    let (mut open, mut since): (i64, Option<At>) = (0, None);
    for bar in bars.iter() {
        // Endings are played in turn, and slurs lead into each.
        if case.score.bar(bar).is_some_and(|bar| bar.ending.is_some()) {
            return loose;
        }
        let mut ends: Vec<(Fraction, bool, StaffId, i64)> = Vec::new();
        for staff in staves {
            let Some(cell) = case.score.cell(bar, *staff) else { continue };
            for event in cell.events.iter().filter(|event| event.printed) {
                let (starts, stops) = (i64::from(event.slurs.starts), i64::from(event.slurs.stops));
                // Grace notes stand before the note at their onset; what begins on one may end on the next.
                let main = event.grace == Grace::No;
                ends.push((event.onset, main, *staff, starts - stops));
            }
        }
        ends.sort_by_key(|(onset, main, ..)| (*onset, *main));
        let mut at = 0;
        while let Some((onset, _, staff, _)) = ends.get(at).copied() {
            let here: i64 = ends.iter().filter(|own| own.0 == onset).map(|own| own.3).sum();
            at += ends.iter().filter(|own| own.0 == onset).count();
            if open == 0 && here > 0 {
                since = Some((staff, bar));
            }
            open += here;
            if open < 0 {
                loose.push((staff, bar));
                open = 0;
            }
        }
    }
    if open > 0 {
        loose.extend(since);
    }
    loose
}
