//! One row a draft: whether it becomes better.

use super::Draft;
use crate::compare::{Figures, Leaves, pages};
use crate::players::turning::TurnClass;
use crate::rules::{Finding, Weight};

/// A draft in numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct TrendRow {
    pub name: String,
    pub bars: usize,
    pub parts: usize,
    pub pages: Figures,
    /// Findings of score and parts: stop, mend, look.
    pub findings: [usize; 3],
    /// Turns of players that leave too little time, of how many; `None` without parts.
    pub bad_turns: Option<(usize, usize)>,
}

pub(super) fn row(draft: &Draft) -> TrendRow {
    let checked = &draft.checked;
    let leaves = Leaves { layout: &checked.layout, survey: &checked.survey };
    let of_parts = draft.parts.iter().flat_map(|parts| &parts.parts);
    let all: Vec<&Finding> = checked.findings.iter().chain(of_parts.clone().flat_map(|part| &part.findings)).collect();
    let count = |weight: Weight| all.iter().filter(|finding| finding.weight == weight).count();
    let turns = of_parts.flat_map(|part| part.recorded.as_ref().map_or(&part.proposed.turns, |own| &own.turns));
    let classes: Vec<bool> =
        turns.map(|turn| matches!(turn.point.class, Some(TurnClass::None | TurnClass::Tight))).collect();
    TrendRow {
        name: draft.name.clone(),
        bars: checked.score.bars.len(),
        parts: checked.score.parts.len(),
        pages: pages(&leaves, &leaves, None).new,
        findings: [Weight::Stop, Weight::Mend, Weight::Look].map(count),
        bad_turns: draft.parts.as_ref().map(|_| (classes.iter().filter(|bad| **bad).count(), classes.len())),
    }
}
