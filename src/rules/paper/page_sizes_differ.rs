//! Pages of several sizes in one document.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;

/// How much a page's sides may differ from those of most other pages.
pub(in crate::rules) struct PageSizesDiffer {
    tolerance: Limit<Mm>,
}

impl Rule for PageSizesDiffer {
    const NAME: &'static str = "page-sizes-differ";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(PageSizesDiffer { tolerance: limits.take("tolerance")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let told: Vec<(PageIdx, (Mm, Mm))> = case.told_sizes().collect();
        let alike = |one: (Mm, Mm), other: (Mm, Mm)| {
            let off = (one.0 - other.0).abs().max((one.1 - other.1).abs());
            off.rounded() <= self.tolerance.value
        };
        let of_a_size = |size: (Mm, Mm)| told.iter().filter(|(_, other)| alike(size, *other)).count();
        // Of equally frequent sizes the first one counts as usual.
        let usual = told.iter().rev().max_by_key(|(_, size)| of_a_size(*size));
        let Some((_, usual)) = usual.copied() else {
            return Outcome::CouldNotRun("a recorded page size".to_owned());
        };
        let odd: Vec<(PageIdx, (Mm, Mm))> = told.iter().copied().filter(|(_, size)| !alike(*size, usual)).collect();
        let Some((_, (width, height))) = odd.first().copied() else { return Outcome::Ran(Vec::new()) };
        let pages: Vec<PageIdx> = odd.iter().map(|(page, _)| *page).collect();
        let sheet = format!("{} x {}", width.in_tenths().0, height.in_tenths());
        let most = format!("{} x {}", usual.0.in_tenths().0, usual.1.in_tenths());
        let verb = if pages.len() == 1 { "is" } else { "are" };
        let message = format!("{} {verb} {sheet}, the other pages {most}.", case.pages_words(&pages));
        let finding = Finding::beyond(&self.tolerance, case.key(Self::NAME, Scope::Work, None, None), sheet)
            .asks(most)
            .at(case.on_pages(&pages))
            .says(message);
        Outcome::Ran(vec![finding])
    }
}
