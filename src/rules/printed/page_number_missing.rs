//! Pages without a number.

use super::PRINTED;
use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::layout::Page;
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Every page of music after the first bears its number.
pub(in crate::rules) struct PageNumberMissing {
    weight: Weight,
}

impl Rule for PageNumberMissing {
    const NAME: &'static str = "page-number-missing";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(PageNumberMissing { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.seen_pages().next().is_none() {
            return Outcome::CouldNotRun(PRINTED.to_owned());
        }
        let later: Vec<(PageIdx, &Page)> = case.seen_pages().skip(1).map(|(at, page, _)| (at, page)).collect();
        let bare: Vec<PageIdx> = later.iter().filter(|(_, page)| !has_number(page)).map(|(at, _)| *at).collect();
        let verb = if bare.len() == 1 { "bears" } else { "bear" };
        let message = match (bare.len(), later.len()) {
            (0, _) => return Outcome::Ran(Vec::new()),
            (some, all) if some == all => "No page bears a number.".to_owned(),
            _ => format!("{} {verb} no number.", case.pages_words(&bare)),
        };
        let finding = Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, None, None), "no number")
            .asks("a number on every page")
            .at(bare.iter().map(|page| case.on_page(*page)).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

fn has_number(page: &Page) -> bool {
    page.texts.iter().any(|text| text.kind.as_deref() == Some("page number"))
}
