//! Which openings get a sheet, and what is said of those that do not.

use std::collections::BTreeSet;

use super::spots::{self, Spot};
use super::{Extent, Subject};
use crate::layout::Layout;
use crate::place::PageIdx;
use crate::rules::Weight;

/// What is to be drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Choice {
    /// In page order.
    pub openings: Vec<Opening>,
    pub worst: Option<Opening>,
}

/// Pages of one sheet with all that is marked on them.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    pub pages: Vec<PageIdx>,
    /// By page, from top to bottom.
    pub spots: Vec<Spot>,
    /// What is to be said of the pages before it that have no sheet, and after it when it is the last.
    pub around: String,
}

/// Sheets for the openings whose findings weigh most, then one for the worst page if a sheet is left for it.
#[must_use]
pub fn choose(subject: &Subject<'_>, extent: Extent) -> Choice {
    let spots = spots::of(subject.findings, subject.layout);
    let all: Vec<Opening> = subject
        .survey
        .openings
        .iter()
        .map(|opening| {
            let here = spots.iter().filter(|spot| opening.pages.contains(&spot.page)).copied().collect();
            Opening { pages: opening.pages.clone(), spots: here, around: String::new() }
        })
        .collect();
    let mut ranked: Vec<usize> =
        (0..all.len()).filter(|at| all.get(*at).is_some_and(|o| !o.spots.is_empty())).collect();
    let weight = |at: &usize| all.get(*at).map_or(0, |opening| weigh(&opening.spots));
    ranked.sort_by_key(|at| (std::cmp::Reverse(weight(at)), *at));
    let (sheets, worst) = match extent {
        Extent::Full => (ranked.len(), 1),
        Extent::AtMost(budget) => (budget.saturating_sub(1).max(1).min(budget), usize::from(budget > 1)),
    };
    let shown: BTreeSet<usize> = ranked.into_iter().take(sheets).collect();
    let openings = told(&all, &shown, subject.layout);
    let worst = worst_page(&spots).filter(|_| worst == 1 && !openings.is_empty());
    Choice { openings, worst }
}

/// A finding that stops the rehearsal outweighs any usual number of lesser ones; each counts once an opening.
fn weigh(spots: &[Spot]) -> u32 {
    let findings: BTreeSet<(usize, Weight)> = spots.iter().map(|spot| (spot.number, spot.weight)).collect();
    findings
        .iter()
        .map(|(_, weight)| match weight {
            Weight::Stop => 100,
            Weight::Mend => 10,
            Weight::Look => 1,
        })
        .sum()
}

fn worst_page(spots: &[Spot]) -> Option<Opening> {
    let pages = spots.chunk_by(|one, other| one.page == other.page);
    // Of equals the first.
    let worst = pages.rev().max_by_key(|spots| weigh(spots))?;
    Some(Opening { pages: vec![worst.first()?.page], spots: worst.to_vec(), around: String::new() })
}

/// The openings that are shown, each with a word on those before it that are not.
fn told(all: &[Opening], shown: &BTreeSet<usize>, layout: &Layout) -> Vec<Opening> {
    let mut openings = Vec::new();
    let mut from = 0;
    for at in shown {
        let Some(opening) = all.get(*at) else { continue };
        let mut around = passed_over(all.get(from..*at).unwrap_or_default(), layout);
        if shown.last() == Some(at) {
            around.extend(passed_over(all.get(at + 1..).unwrap_or_default(), layout));
        }
        openings.push(Opening { around: around.join(" "), ..opening.clone() });
        from = at + 1;
    }
    openings
}

/// One sentence for each run of neighbouring openings that are passed over for the same reason.
fn passed_over(openings: &[Opening], layout: &Layout) -> Vec<String> {
    let runs = openings.chunk_by(|one, other| one.spots.is_empty() == other.spots.is_empty());
    runs.filter_map(|run| {
        let pages: Vec<PageIdx> = run.iter().flat_map(|opening| opening.pages.iter().copied()).collect();
        let pages = range(layout, *pages.first()?, *pages.last()?);
        let findings: BTreeSet<usize> = run.iter().flat_map(|o| o.spots.iter().map(|spot| spot.number)).collect();
        let said = match findings.len() {
            0 => "nothing to say".to_owned(),
            1 => "1 finding, drawn with --full".to_owned(),
            count => format!("{count} findings, drawn with --full"),
        };
        Some(format!("{pages}: {said}."))
    })
    .collect()
}

/// "p. 4" or "pp. 4\u{2013}17", by printed numbers.
fn range(layout: &Layout, first: PageIdx, last: PageIdx) -> String {
    let (one, other) = (label(layout, first), label(layout, last));
    if first == last { format!("p. {one}") } else { format!("pp. {one}\u{2013}{other}") }
}

/// The printed number of a page, or its place in the document where none is known.
#[must_use]
pub fn label(layout: &Layout, page: PageIdx) -> String {
    let printed = layout.pages.get(page.at()).map(|page| page.label.clone()).filter(|label| !label.is_empty());
    printed.unwrap_or_else(|| (page.0 + 1).to_string())
}
