//! Sets of staves that are another after most page turns.

use crate::guidelines::{Guidelines, Limit, Mismatch, Percent};
use crate::place::{PageIdx, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Share of the turns after which the set of staves has changed.
pub(in crate::rules) struct StavesChangeTooOften {
    changed_turns: Limit<Percent>,
}

impl Rule for StavesChangeTooOften {
    const NAME: &'static str = "staves-change-too-often";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(StavesChangeTooOften { changed_turns: limits.take("changed-turns")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if !case.tells_all_bars() {
            return Outcome::CouldNotRun("recorded page breaks".to_owned());
        }
        let shown: Vec<(PageIdx, Vec<StaffId>)> =
            case.survey.openings.iter().filter_map(|own| shown(case, &own.pages)).collect();
        let turns = shown.windows(2);
        let changed: Vec<PageIdx> = turns.filter_map(changed).collect();
        let all = shown.len().saturating_sub(1);
        // One turn or two are no habit.
        if all < 3 || changed.len() as f64 * 100.0 <= self.changed_turns.value.0 * all as f64 {
            return Outcome::Ran(Vec::new());
        }
        let found = format!("{} of {all}", changed.len());
        let message = format!("After {found} page turns other staves are shown than before the turn.");
        let finding = Finding::beyond(&self.changed_turns, case.key(Self::NAME, Scope::Work, None, None), found)
            .asks(format!("{} of the turns at most", self.changed_turns.value))
            .at(changed.iter().map(|page| case.on_page(*page)).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// The staves of an opening's first page; `None` where a page holds several systems, whose sets differ anyway.
fn shown(case: &Case<'_>, pages: &[PageIdx]) -> Option<(PageIdx, Vec<StaffId>)> {
    let first = *pages.first()?;
    match case.page(first)?.systems.as_slice() {
        [only] => Some((first, only.staves.iter().filter_map(|staff| staff.staff).collect())),
        _ => None,
    }
}

/// The page after a turn, when its staves are others.
fn changed(turn: &[(PageIdx, Vec<StaffId>)]) -> Option<PageIdx> {
    match turn {
        [(_, before), (page, after)] if before != after => Some(*page),
        _ => None,
    }
}
