//! Families that no bracket holds together.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{PageIdx, Place, StaffId};
use crate::rules::forces::blocks::Block;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::GroupSymbol;
use crate::words::listed;

/// A bracket for each family of two parts or more.
pub(in crate::rules) struct FamilyBracketMissing {
    weight: Weight,
}

impl Rule for FamilyBracketMissing {
    const NAME: &'static str = "family-bracket-missing";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(FamilyBracketMissing { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let bare: Vec<Block> = case.blocks().into_iter().filter(|block| !is_bracketed(case, *block)).collect();
        let staves: Vec<StaffId> = bare.iter().flat_map(|block| case.staves_of_block(*block)).collect();
        let Some(first) = staves.first().copied() else { return Outcome::Ran(Vec::new()) };
        let mut families: Vec<&str> = Vec::new();
        for block in &bare {
            // A family may stand in several places.
            if !families.contains(&block.name()) {
                families.push(block.name());
            }
        }
        let names = listed(families.into_iter().map(str::to_owned));
        let message = format!("Families without a bracket: {names}.");
        let place = Place { staves, ..case.on_page(PageIdx(0)) };
        let finding = Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, Some(first), None), names)
            .asks("a bracket for each family")
            .at(vec![place])
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// Every part of the family stands under a bracket, though perhaps each pair under one of its own.
fn is_bracketed(case: &Case<'_>, block: Block) -> bool {
    let brackets = || {
        let holding = [GroupSymbol::Bracket, GroupSymbol::Square];
        case.score.groups.iter().filter(move |group| holding.contains(&group.symbol))
    };
    block.parts().all(|part| brackets().any(|group| group.first <= part && part <= group.last))
}
