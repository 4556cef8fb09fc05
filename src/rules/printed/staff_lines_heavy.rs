//! Staff lines that drown the notes.

use super::PRINTED;
use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;

/// How thick a staff line is.
pub(in crate::rules) struct StaffLinesHeavy {
    thickness: Limit<Mm>,
}

impl Rule for StaffLinesHeavy {
    const NAME: &'static str = "staff-lines-heavy";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(StaffLinesHeavy { thickness: limits.take("thickness")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let told: Vec<(PageIdx, Mm)> =
            case.seen_pages().filter_map(|(at, _, seen)| Some((at, seen.staff_line?.rounded()))).collect();
        if told.is_empty() {
            return Outcome::CouldNotRun(PRINTED.to_owned());
        }
        let heavy: Vec<(PageIdx, Mm)> = told.into_iter().filter(|(_, thick)| *thick > self.thickness.value).collect();
        let Some(most) = heavy.iter().map(|(_, thick)| *thick).reduce(Mm::max) else { return Outcome::Ran(Vec::new()) };
        let pages: Vec<PageIdx> = heavy.iter().map(|(at, _)| *at).collect();
        let found = format!("{:.2} mm", most.0);
        let message = format!("Staff lines {found} thick on {}.", case.pages_words(&pages));
        let finding = Finding::beyond(&self.thickness, case.key(Self::NAME, Scope::Work, None, None), found);
        Outcome::Ran(vec![finding.at(case.on_pages(&pages)).says(message)])
    }
}
