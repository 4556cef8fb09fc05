//! Tempo marks that stand at the top of a tall page only.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::{BarSpan, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::{Family, SystemMark, SystemMarkKind};
use crate::words::listed;

/// Scores of so many staves repeat tempo marks above the first violins.
pub(in crate::rules) struct TempoMarkNotRepeated {
    least_staves: Limit<u32>,
}

impl Rule for TempoMarkNotRepeated {
    const NAME: &'static str = "tempo-mark-not-repeated";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(TempoMarkNotRepeated { least_staves: limits.take("least-staves")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let is_large = case.score.staves.len() >= self.least_staves.value as usize;
        let Some(strings) = first_strings(case).filter(|staff| is_large && staff.0 > 0) else {
            return Outcome::Ran(Vec::new());
        };
        let printed = |mark: &&SystemMark| matches!(mark.kind, SystemMarkKind::Tempo { .. }) && !mark.over.is_empty();
        let marks: Vec<&SystemMark> = case.score.marks.iter().filter(printed).collect();
        let is_repeated = |mark: &SystemMark| mark.over.iter().any(|staff| *staff >= strings);
        if !marks.is_empty() && !marks.iter().any(|mark| is_repeated(mark)) {
            // Programs print a second line of tempo marks on their own, and files keep silent about it.
            return Outcome::CouldNotRun("tempo marks as printed above the strings".to_owned());
        }
        let single: Vec<&SystemMark> = marks.into_iter().filter(|mark| !is_repeated(mark)).collect();
        let Some(first) = single.first() else { return Outcome::Ran(Vec::new()) };
        let bars = listed(single.iter().map(|mark| case.bar_words(mark.bar)));
        let verb = if single.len() == 1 { "stands" } else { "stand" };
        let noun = if single.len() == 1 { "mark" } else { "marks" };
        let message =
            format!("The tempo {noun} at {bars} {verb} at the top of the page alone, others above the strings too.");
        let key = case.key(Self::NAME, Scope::Bar, None, Some(first.bar));
        let finding = Finding::unlimited(self.least_staves.weight, key, "once")
            .asks("above the first violins, too")
            .at(single.iter().map(|mark| case.on_bars(BarSpan::one(mark.bar), &[strings])).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

fn first_strings(case: &Case<'_>) -> Option<StaffId> {
    let ids = (0..case.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
    ids.into_iter().find(|staff| case.score.part_of(*staff).is_some_and(|part| part.family == Family::Strings))
}
