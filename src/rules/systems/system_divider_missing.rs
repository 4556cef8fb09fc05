//! Pages of several systems with nothing to part them.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Systems of so many staves have divider marks between them.
pub(in crate::rules) struct SystemDividerMissing {
    least_staves: Limit<u32>,
}

impl Rule for SystemDividerMissing {
    const NAME: &'static str = "system-divider-missing";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(SystemDividerMissing { least_staves: limits.take("least-staves")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let systems = case.layout.systems();
        let wanted: Vec<(PageIdx, Option<bool>)> = systems
            .filter(|(_, at, system)| *at > 0 && system.staves.len() >= self.least_staves.value as usize)
            .map(|(page, _, system)| (page, system.divider_above))
            .collect();
        if !wanted.is_empty() && wanted.iter().all(|(_, divider)| divider.is_none()) {
            return Outcome::CouldNotRun("recorded divider marks, or pages to look at".to_owned());
        }
        let mut pages: Vec<PageIdx> =
            wanted.iter().filter(|(_, divider)| *divider == Some(false)).map(|(page, _)| *page).collect();
        pages.dedup();
        if pages.is_empty() {
            return Outcome::Ran(Vec::new());
        }
        let message = format!("No divider marks between the systems on {}.", case.pages_words(&pages));
        let finding =
            Finding::unlimited(self.least_staves.weight, case.key(Self::NAME, Scope::Work, None, None), "none")
                .asks("divider marks between systems")
                .at(case.on_pages(&pages))
                .says(message);
        Outcome::Ran(vec![finding])
    }
}
