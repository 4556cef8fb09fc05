//! Pages that lie on their side.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;

/// Pages stand upright.
pub(in crate::rules) struct LandscapePage {
    weight: Weight,
}

impl Rule for LandscapePage {
    const NAME: &'static str = "landscape-page";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(LandscapePage { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.told_sizes().next().is_none() {
            return Outcome::CouldNotRun("a recorded page size".to_owned());
        }
        let lying: Vec<(PageIdx, (Mm, Mm))> = case.told_sizes().filter(|(_, (width, height))| width > height).collect();
        let Some((_, (width, height))) = lying.first().copied() else { return Outcome::Ran(Vec::new()) };
        let pages: Vec<PageIdx> = lying.iter().map(|(page, _)| *page).collect();
        let sheet = format!("{} x {}", width.in_tenths().0, height.in_tenths());
        let verb = if pages.len() == 1 { "is" } else { "are" };
        let message = format!("{} {verb} wider than high ({sheet}).", case.pages_words(&pages));
        let finding = Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, None, None), sheet)
            .asks("upright pages")
            .at(case.on_pages(&pages))
            .says(message);
        Outcome::Ran(vec![finding])
    }
}
