//! Music without bar numbers.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Bar numbers at least at each system's start.
pub(in crate::rules) struct BarNumbersMissing {
    weight: Weight,
}

impl Rule for BarNumbersMissing {
    const NAME: &'static str = "bar-numbers-missing";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(BarNumbersMissing { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        match case.layout.told.bar_numbers {
            None => Outcome::CouldNotRun("bar numbers as printed".to_owned()),
            Some(true) => Outcome::Ran(Vec::new()),
            Some(false) => {
                let pages: Vec<PageIdx> = case.music_pages().map(|(at, _)| at).collect();
                let finding = Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, None, None), "none")
                    .asks("a number at every system")
                    .at(case.on_pages(&pages))
                    .says("No bar (measure) numbers are printed.");
                Outcome::Ran(vec![finding])
            }
        }
    }
}
