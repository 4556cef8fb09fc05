//! Parts whose staves are larger than they need be.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;

/// Height of the five-line staff in a part.
pub(in crate::rules) struct StaffTooLarge {
    part_ceiling: Limit<Mm>,
}

impl Rule for StaffTooLarge {
    const NAME: &'static str = "staff-too-large";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(StaffTooLarge { part_ceiling: limits.take("part-ceiling")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let told: Vec<(PageIdx, Mm)> = case.told_staves().map(|own| (own.page, own.staff.height.rounded())).collect();
        if told.is_empty() {
            return Outcome::CouldNotRun("recorded staff heights".to_owned());
        }
        let large = told.into_iter().filter(|(_, height)| *height > self.part_ceiling.value);
        let (mut pages, heights): (Vec<PageIdx>, Vec<Mm>) = large.unzip();
        pages.dedup();
        let Some(highest) = heights.into_iter().reduce(Mm::max) else { return Outcome::Ran(Vec::new()) };
        let are_all = pages.len() == case.music_pages().count();
        let where_to = if are_all { String::new() } else { format!(" ({})", case.pages_words(&pages)) };
        let key = case.key(Self::NAME, Scope::Work, None, None);
        let finding = Finding::beyond(&self.part_ceiling, key, highest.to_string())
            .at(case.on_pages(&pages))
            .says(format!("Staves {highest} high{where_to}: fewer bars on a page than need be, and more turns."));
        Outcome::Ran(vec![finding])
    }
}
