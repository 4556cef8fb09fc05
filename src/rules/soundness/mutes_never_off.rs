//! Mutes that are put on and never taken off.

use super::gathered::At;
use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarSpan, StaffId};
use crate::players::end_to_end::ChangeKind;
use crate::players::{self, Hands};
use crate::rules::{Case, Outcome, Rule};
use crate::score::MarkKind;

/// Who puts a mute on is told when it comes off.
pub(in crate::rules) struct MutesNeverOff {
    weight: Weight,
}

impl Rule for MutesNeverOff {
    const NAME: &'static str = "mutes-never-off";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(MutesNeverOff { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let mut found: Vec<At> =
            case.staves_by_movement().filter_map(|(staff, bars)| on_staff(case, staff, bars)).collect();
        found.sort_by_key(|(staff, bar)| (*bar, *staff));
        let what = "Mutes go on, and nothing takes them off before the movement ends";
        Outcome::Ran(case.gathered(Self::NAME, self.weight, &found, what, "\"senza sord.\"").into_iter().collect())
    }
}

/// Where the mute went on that is still on at the end.
fn on_staff(case: &Case<'_>, staff: StaffId, bars: BarSpan) -> Option<At> {
    let mut on = None;
    for bar in bars.iter() {
        for mark in &case.score.cell(bar, staff)?.marks {
            let MarkKind::Words(words) = &mark.kind else { continue };
            match players::asks(words, Hands::Wind) {
                Some(ChangeKind::MuteOn) => on = on.or(Some(bar)),
                Some(ChangeKind::MuteOff) => on = None,
                _ => {}
            }
        }
    }
    on.map(|bar| (staff, bar))
}
