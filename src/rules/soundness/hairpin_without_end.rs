//! Hairpins that begin and never end.

use super::gathered::At;
use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::rules::{Case, Outcome, Rule};
use crate::score::MarkKind;

/// A hairpin leads somewhere.
pub(in crate::rules) struct HairpinWithoutEnd {
    weight: Weight,
}

impl Rule for HairpinWithoutEnd {
    const NAME: &'static str = "hairpin-without-end";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(HairpinWithoutEnd { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let mut loose: Vec<At> =
            case.staves_by_movement().flat_map(|(staff, bars)| on_staff(case, staff, bars)).collect();
        loose.sort_by_key(|(staff, bar)| (*bar, *staff));
        let finding = case.gathered(Self::NAME, self.weight, &loose, "Hairpins without an end", "an end");
        Outcome::Ran(finding.into_iter().collect())
    }
}

fn on_staff(case: &Case<'_>, staff: StaffId, bars: BarSpan) -> Vec<At> {
    let mut open: Vec<(u8, BarIdx)> = Vec::new();
    let mut loose = Vec::new();
    for bar in bars.iter() {
        let Some(cell) = case.score.cell(bar, staff) else { continue };
        for mark in &cell.marks {
            match mark.kind {
                MarkKind::HairpinStart { number, .. } => {
                    let before = open.iter().position(|(own, _)| *own == number).map(|at| open.remove(at));
                    loose.extend(before.map(|(_, bar)| (staff, bar)));
                    open.push((number, bar));
                }
                MarkKind::HairpinStop { number } => open.retain(|(own, _)| *own != number),
                _ => {}
            }
        }
    }
    loose.extend(open.into_iter().map(|(_, bar)| (staff, bar)));
    loose
}
