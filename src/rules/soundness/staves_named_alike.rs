//! Parts that bear the same name.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::Family;
use crate::words::listed;

/// No two parts are called the same.
pub(in crate::rules) struct StavesNamedAlike {
    weight: Weight,
}

impl Rule for StavesNamedAlike {
    const NAME: &'static str = "staves-named-alike";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(StavesNamedAlike { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let mut seen: Vec<(String, PartId)> = Vec::new();
        let mut twice: Vec<(String, StaffId)> = Vec::new();
        for (part, id) in case.score.parts.iter().zip((0..).map(PartId)) {
            let name = part.name.split_whitespace().collect::<Vec<_>>().join(" ");
            if name.is_empty() {
                continue;
            }
            let before = seen.iter().rev().find(|(own, _)| *own == name).map(|(_, before)| *before);
            // Neighbouring strings of one name are a section that is divided.
            let is_divided = before.is_some_and(|before| before.0 + 1 == id.0) && part.family == Family::Strings;
            seen.push((name.clone(), id));
            let top = case.score.staves_of(id).next();
            if let (Some(_), false, Some(top)) = (before, is_divided, top) {
                twice.push((name, top));
            }
        }
        let Some((_, first)) = twice.first() else { return Outcome::Ran(Vec::new()) };
        let mut names: Vec<String> = twice.iter().map(|(name, _)| name.clone()).collect();
        names.dedup();
        let key = case.key(Self::NAME, Scope::Work, Some(*first), None);
        let message = format!("More than one part is called {}.", listed(names));
        let place = case.score.all_bars().map(|_| BarSpan::one(BarIdx(0)));
        let places = place.map(|bars| case.on_bars(bars, &[*first])).into_iter().collect();
        let finding = Finding::unlimited(self.weight, key, "the same name").asks("a name for each");
        Outcome::Ran(vec![finding.at(places).says(message)])
    }
}
