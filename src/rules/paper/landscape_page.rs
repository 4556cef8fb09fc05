//! Pages that lie on their side.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::layout::Page;
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
        let on_its_side = on_its_side(case);
        let lying: Vec<(PageIdx, (Mm, Mm))> = case.told_sizes().filter(|(_, (width, height))| width > height).collect();
        let Some((_, (width, height))) = lying.first().copied() else {
            return Outcome::Ran(on_its_side.into_iter().collect());
        };
        let pages: Vec<PageIdx> = lying.iter().map(|(page, _)| *page).collect();
        let sheet = format!("{} x {}", width.in_tenths().0, height.in_tenths());
        let verb = if pages.len() == 1 { "is" } else { "are" };
        let message = format!("{} {verb} wider than high ({sheet}).", case.pages_words(&pages));
        let finding = Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, None, None), sheet)
            .asks("upright pages")
            .at(case.on_pages(&pages))
            .says(message);
        Outcome::Ran(on_its_side.into_iter().chain([finding]).collect())
    }
}

/// Printed pages that are shown turned by a quarter: they are printed as they lie.
fn on_its_side(case: &Case<'_>) -> Option<Finding> {
    let lies = |page: &Page| page.seen.as_ref().is_some_and(|seen| seen.lies.is_some());
    let pages: Vec<PageIdx> = case.music_pages().filter(|(_, page)| lies(page)).map(|(at, _)| at).collect();
    let verb = if pages.len() == 1 { "lies on its side" } else { "lie on their sides" };
    let message = (!pages.is_empty()).then(|| format!("{} {verb}.", case.pages_words(&pages)))?;
    let key = case.key(LandscapePage::NAME, Scope::Page, None, None);
    let finding = Finding::unlimited(Weight::Mend, key, "turned by a quarter")
        .asks("pages that stand upright")
        .at(pages.iter().map(|page| case.on_page(*page)).collect())
        .says(message)
        .with_remedy("Turn the page before it is printed: it would be bound and trimmed as it lies.");
    Some(finding)
}
