//! Single bars set much tighter than their page.

use std::collections::BTreeMap;

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::{BarIdx, BarSpan, PageIdx, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Signs for every hundred staff spaces in one bar of one staff.
pub(in crate::rules) struct CrowdedBar {
    symbols: Limit<u32>,
    /// From here on the whole page is crowded, and says so itself.
    page: Limit<u32>,
}

/// A crowded bar of one staff.
#[derive(Clone, Copy)]
struct Crowded {
    page: PageIdx,
    bar: BarIdx,
    staff: StaffId,
    signs: u32,
}

impl Rule for CrowdedBar {
    const NAME: &'static str = "crowded-bar";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        let page = guidelines.read("crowded-page", |limits| limits.take("symbols"))?;
        guidelines.read(Self::NAME, |limits| Ok(CrowdedBar { symbols: limits.take("symbols")?, page }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.told_systems().next().is_none() {
            return Outcome::CouldNotRun("recorded systems and bar widths".to_owned());
        }
        let calm = case.told_densities().filter(|(_, density)| *density <= self.page.value);
        let crowded: Vec<Crowded> = calm.flat_map(|(page, _)| self.bars_of(case, page)).collect();
        let worst = crowded.iter().max_by_key(|own| (own.signs, std::cmp::Reverse(own.bar)));
        let Some(worst) = worst.copied() else { return Outcome::Ran(Vec::new()) };
        let more = if crowded.len() > 1 { format!(" Bars as tight: {} in all.", crowded.len()) } else { String::new() };
        let message = format!(
            "{}: {} is crowded in {}, {} signs on every hundred staff spaces.{more}",
            case.page_words(worst.page),
            case.bar_words(worst.bar),
            case.staff_words(worst.staff),
            worst.signs,
        );
        let key = case.key(Self::NAME, Scope::Bar, Some(worst.staff), Some(worst.bar));
        let finding = Finding::beyond(&self.symbols, key, format!("{} signs", worst.signs))
            .asks(format!("at most {} signs", self.symbols.value))
            .at(crowded.iter().map(|own| case.on_bars(BarSpan::one(own.bar), &[own.staff])).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

impl CrowdedBar {
    /// The crowded bars of a page, each by its densest staff.
    fn bars_of(&self, case: &Case<'_>, page: PageIdx) -> Vec<Crowded> {
        let mut densest: BTreeMap<BarIdx, Crowded> = BTreeMap::new();
        let bars = case.page(page).and_then(crate::layout::Page::span).into_iter().flat_map(BarSpan::iter);
        for bar in bars {
            for staff in (0..case.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId) {
                let Some(density) = case.survey.density.cell(bar, staff).per_100_spaces else { continue };
                let own = Crowded { page, bar, staff, signs: density.round() as u32 };
                if own.signs > self.symbols.value && densest.get(&bar).is_none_or(|most| most.signs < own.signs) {
                    densest.insert(bar, own);
                }
            }
        }
        densest.into_values().collect()
    }
}
