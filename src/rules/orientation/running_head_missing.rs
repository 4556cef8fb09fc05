//! Pages that would not be known again once they lie on the floor.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::layout::Page;
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Every page after the first bears words.
pub(in crate::rules) struct RunningHeadMissing {
    weight: Weight,
}

impl Rule for RunningHeadMissing {
    const NAME: &'static str = "running-head-missing";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(RunningHeadMissing { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let later: Vec<(PageIdx, &Page)> = case.music_pages().skip(1).collect();
        if later.is_empty() {
            return Outcome::Ran(Vec::new());
        }
        if later.iter().all(|(_, page)| page.texts.is_empty()) {
            return Outcome::CouldNotRun("the words printed on later pages".to_owned());
        }
        let bare = |page: &Page| !page.texts.iter().any(|text| text.text.chars().any(char::is_alphabetic));
        let bare: Vec<PageIdx> = later.iter().filter(|(_, page)| bare(page)).map(|(at, _)| *at).collect();
        if bare.is_empty() {
            return Outcome::Ran(Vec::new());
        }
        let verb = if bare.len() == 1 { "bears" } else { "bear" };
        let message = format!("{} {verb} no title.", case.pages_words(&bare));
        let finding = Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, None, None), "no title")
            .asks("a short title on every page")
            .at(bare.iter().map(|page| case.on_page(*page)).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}
