//! Bars of the music that stand on no page, and systems with other bars than the music has.

use super::PRINTED;
use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::join::{Fit, Missing, SystemFit};
use crate::place::{PageIdx, Place};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::words::counted;

/// Every bar stands on a page.
pub(in crate::rules) struct BarsNotPrinted {
    weight: Weight,
}

impl Rule for BarsNotPrinted {
    const NAME: &'static str = "bars-not-printed";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(BarsNotPrinted { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(fit) = case.fit else { return Outcome::CouldNotRun(PRINTED.to_owned()) };
        let missing = fit.missing.iter().map(|missing| self.missing(case, missing));
        Outcome::Ran(missing.chain(self.uneven(case, fit)).collect())
    }
}

impl BarsNotPrinted {
    fn missing(&self, case: &Case<'_>, missing: &Missing) -> Finding {
        let count = missing.bars.count();
        let bars = case.bars_words(missing.bars);
        let verb = if count == 1 { "stands" } else { "stand" };
        let (message, weight) = match (missing.after, missing.before) {
            (None, None) => (format!("No page holds any of the {}.", counted(count as usize, "bar")), self.weight),
            // An excerpt begins and ends where it likes.
            (None, Some((page, _))) => (
                format!("{bars} {verb} on no page: the pages begin after them, with {}.", case.page_words(page)),
                Weight::Mend,
            ),
            (Some((page, _)), None) => (
                format!("{bars} {verb} on no page: the pages end before them, with {}.", case.page_words(page)),
                Weight::Mend,
            ),
            (Some((after, _)), Some((before, _))) => (
                format!("{bars} {verb} on no page: {} missing {}.", number(count), between(case, after, before)),
                self.weight,
            ),
        };
        let near = missing.before.or(missing.after);
        let place = near.and_then(|(page, at)| {
            let system = case.page(page)?.systems.get(usize::from(at))?;
            Some(case.on_system(page, at, system))
        });
        let place = Place { bars: Some(missing.bars), ..place.unwrap_or_default() };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(missing.bars.first));
        Finding::unlimited(weight, key, counted(count as usize, "bar")).asks("every bar").at(vec![place]).says(message)
    }

    /// Systems that hold more bars or fewer than the music; what was counted may be wrong as well.
    fn uneven(&self, case: &Case<'_>, fit: &Fit) -> Option<Finding> {
        let odd: Vec<&SystemFit> = fit.systems.iter().filter(|system| !system.is_even()).collect();
        let first = odd.first()?;
        let place = |own: &&SystemFit| {
            let system = case.page(own.page)?.systems.get(usize::from(own.system))?;
            Some(case.on_system(own.page, own.system, system).with_words(case.odd_words(own), ""))
        };
        let more =
            if odd.len() > 1 { format!(" {} in all.", counted(odd.len(), "such system")) } else { String::new() };
        let message = format!("{}: {}{more}", case.page_words(first.page), case.odd_words(first));
        let key = case.key(Self::NAME, Scope::System, None, first.bars.map(|bars| bars.first));
        let finding = Finding::unlimited(Weight::Look, key, counted(odd.len(), "system"))
            .asks("as many bars as the music has")
            .at(odd.iter().filter_map(place).collect())
            .says(message)
            .with_remedy(
                "Look whether the page or the file is the newer one; a barline that was not seen is no fault.",
            );
        Some(finding)
    }
}

impl Case<'_> {
    fn odd_words(&self, own: &SystemFit) -> String {
        let printed = counted(own.bars_counted as usize, "bar");
        match own.bars {
            Some(bars) => format!("system {}: {printed} printed, {} in the music.", own.system + 1, bars.count()),
            None => format!("system {}: {printed} printed that are not found in the music.", own.system + 1),
        }
    }
}

fn number(bars: u32) -> String {
    let bars = counted(bars as usize, "bar");
    format!("{bars} {}", if bars.starts_with("1 ") { "is" } else { "are" })
}

fn between(case: &Case<'_>, after: PageIdx, before: PageIdx) -> String {
    if after == before {
        format!("on {}", case.page_words(after))
    } else {
        format!("between {} and {}", case.page_words(after), case.page_words(before))
    }
}
