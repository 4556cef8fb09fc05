//! Barlines that run through everything, or through nothing.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{PageIdx, PartId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::{Family, Group};

/// Barlines run through each family and break between families.
pub(in crate::rules) struct BarlinesNotGrouped {
    weight: Weight,
}

impl Rule for BarlinesNotGrouped {
    const NAME: &'static str = "barlines-not-grouped";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(BarlinesNotGrouped { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.blocks().len() < 2 {
            return Outcome::Ran(Vec::new());
        }
        let told: Vec<(&Group, bool)> =
            case.score.groups.iter().filter_map(|group| Some((group, group.joins_barlines?))).collect();
        if told.is_empty() {
            return Outcome::CouldNotRun("recorded groups of barlines".to_owned());
        }
        let joined: Vec<&Group> = told.iter().filter(|(_, joins)| *joins).map(|(group, _)| *group).collect();
        let (found, message) = if joined.iter().any(|group| families_in(case, group) > 1) {
            ("through several families", "Barlines run through several families without a break.")
        } else if joined.is_empty() {
            ("on single staves", "Barlines stand on single staves and do not show the families.")
        } else {
            return Outcome::Ran(Vec::new());
        };
        let finding = Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, None, None), found)
            .asks("through each family, broken between families")
            .at(vec![case.on_page(PageIdx(0))])
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

fn families_in(case: &Case<'_>, group: &Group) -> usize {
    let parts = (group.first.0..=group.last.0).map(PartId);
    let mut families: Vec<Family> = parts.filter_map(|part| case.place_in_order(part)).collect();
    families.sort_unstable();
    families.dedup();
    families.len()
}
