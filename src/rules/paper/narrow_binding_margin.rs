//! Inner margins that the binding eats.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::layout::{Page, Side};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;

/// The inner margin.
pub(in crate::rules) struct NarrowBindingMargin {
    inner: Limit<Mm>,
}

impl Rule for NarrowBindingMargin {
    const NAME: &'static str = "narrow-binding-margin";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(NarrowBindingMargin { inner: limits.take("inner")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let told: Vec<(PageIdx, Mm)> = case.told_margins().map(|(at, page)| (at, inner(page))).collect();
        if told.is_empty() {
            return Outcome::CouldNotRun("recorded margins".to_owned());
        }
        let narrow: Vec<(PageIdx, Mm)> = told.into_iter().filter(|(_, white)| *white < self.inner.value).collect();
        let Some(least) = narrow.iter().map(|(_, white)| *white).reduce(Mm::min) else {
            return Outcome::Ran(Vec::new());
        };
        let pages: Vec<PageIdx> = narrow.iter().map(|(page, _)| *page).collect();
        let message = format!("On {} only {least} are left for the binding.", case.pages_words(&pages));
        let finding = Finding::beyond(&self.inner, case.key(Self::NAME, Scope::Work, None, None), least.to_string());
        Outcome::Ran(vec![finding.at(case.on_pages(&pages)).says(message)])
    }
}

fn inner(page: &Page) -> Mm {
    let margins = page.margins.value;
    match page.side {
        Side::Recto => margins.left.rounded(),
        Side::Verso => margins.right.rounded(),
    }
}
