//! Fonts that the file does not hold.

use std::collections::BTreeSet;

use super::PRINTED;
use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::words::listed;

/// Every font that is used is in the file.
pub(in crate::rules) struct FontNotEmbedded {
    weight: Weight,
}

impl Rule for FontNotEmbedded {
    const NAME: &'static str = "font-not-embedded";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(FontNotEmbedded { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.seen_pages().next().is_none() {
            return Outcome::CouldNotRun(PRINTED.to_owned());
        }
        let without = case.seen_pages().filter(|(_, _, seen)| !seen.missing_fonts.is_empty());
        let (mut pages, mut names): (Vec<PageIdx>, BTreeSet<&str>) = (Vec::new(), BTreeSet::new());
        for (at, _, seen) in without {
            pages.push(at);
            names.extend(seen.missing_fonts.iter().map(String::as_str));
        }
        if pages.is_empty() {
            return Outcome::Ran(Vec::new());
        }
        let verb = if names.len() == 1 { "is" } else { "are" };
        let fonts = listed(names.iter().map(|name| (*name).to_owned()));
        let message = format!("{fonts} {verb} used on {} and not in the file.", case.pages_words(&pages));
        let finding = Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, None, None), fonts)
            .asks("all fonts in the file")
            .at(case.on_pages(&pages))
            .says(message);
        Outcome::Ran(vec![finding])
    }
}
