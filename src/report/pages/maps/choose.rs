//! Which openings get a sheet, and what is said of those that do not.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::spots::{self, Spot};
use super::{Extent, Subject};
use crate::layout::Layout;
use crate::place::PageIdx;
use crate::report::whereabouts::Run;
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

/// Sheets for the openings whose findings weigh most, and one for the worst page if a sheet is left for it.
///
/// `sheets` tells how many sheets an opening takes; one that would break the budget is passed over for a lesser one
/// that does not.
#[must_use]
pub fn choose(subject: &Subject<'_>, extent: Extent, sheets: impl Fn(&Opening) -> usize) -> Choice {
    let all = openings(subject);
    let mut ranked: Vec<(usize, &Opening)> = all.iter().enumerate().filter(|(_, o)| !o.spots.is_empty()).collect();
    ranked.sort_by_key(|(at, opening)| (Reverse(weigh(&opening.spots)), *at));
    let mut left = match extent {
        Extent::Full => usize::MAX,
        Extent::AtMost(budget) => budget,
    };
    // The worst page has a sheet once its opening has one.
    let alone = usize::from(left > 1 && all.iter().any(|opening| is_to_be_mended(&opening.spots)));
    left -= alone;
    let mut shown = BTreeSet::new();
    for (at, opening) in ranked {
        let taken = sheets(opening);
        if taken <= left {
            left -= taken;
            shown.insert(at);
        }
    }
    let openings = told(&all, &shown, subject.layout);
    let worst = (alone == 1).then(|| worst_page(&openings)).flatten();
    Choice { openings, worst }
}

fn openings(subject: &Subject<'_>) -> Vec<Opening> {
    let spots = spots::of(subject.findings, subject.layout);
    let opening = |pages: &[PageIdx]| {
        let spots = spots.iter().filter(|spot| pages.contains(&spot.page)).copied().collect();
        Opening { pages: pages.to_vec(), spots, around: String::new() }
    };
    subject.survey.openings.iter().map(|survey| opening(&survey.pages)).collect()
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

/// Of the pages that are shown in their opening the one whose findings weigh most, of equals the first; `None` when
/// nothing on any of them must be mended.
fn worst_page(openings: &[Opening]) -> Option<Opening> {
    let pages = openings.iter().flat_map(|opening| opening.spots.chunk_by(|one, other| one.page == other.page));
    let to_mend = pages.filter(|spots| is_to_be_mended(spots));
    let is_told = |spots: &[Spot]| spots.iter().any(|spot| spot.is_worst && spot.weight != Weight::Look);
    let worst = to_mend.min_by_key(|spots| Reverse((weigh_boxed(spots), is_told(spots), weigh(spots))))?;
    Some(Opening { pages: vec![worst.first()?.page], spots: worst.to_vec(), around: String::new() })
}

/// Whether something on these pages must be mended that a larger picture shows better.
fn is_to_be_mended(spots: &[Spot]) -> bool {
    spots.iter().any(|spot| spot.rect.is_some() && spot.weight != Weight::Look)
}

/// The weight of what has a box of its own: what is said of a whole page needs no larger picture.
fn weigh_boxed(spots: &[Spot]) -> u32 {
    weigh(&spots.iter().filter(|spot| spot.rect.is_some()).copied().collect::<Vec<_>>())
}

/// The openings that are shown, each with a word on those before it that are not.
fn told(all: &[Opening], shown: &BTreeSet<usize>, layout: &Layout) -> Vec<Opening> {
    let mut openings = Vec::new();
    let mut from = 0;
    for at in shown {
        let Some(opening) = all.get(*at) else { continue };
        let before = all.get(from..*at).unwrap_or_default().iter();
        let after = if shown.last() == Some(at) { all.get(at + 1..).unwrap_or_default() } else { &[] };
        let around = passed_over(&before.chain(after).collect::<Vec<_>>(), layout);
        openings.push(Opening { around, ..opening.clone() });
        from = at + 1;
    }
    openings
}

/// "Pages 2-13: nothing to say. Pages 16-17: 3 findings, drawn in the full report."
fn passed_over(openings: &[&Opening], layout: &Layout) -> String {
    let (quiet, dropped): (Vec<&Opening>, Vec<&Opening>) = openings.iter().partition(|o| o.spots.is_empty());
    let findings: BTreeSet<usize> = dropped.iter().flat_map(|o| o.spots.iter().map(|spot| spot.number)).collect();
    let drawn = match findings.len() {
        1 => "1 finding, drawn in the full report".to_owned(),
        count => format!("{count} findings, drawn in the full report"),
    };
    let said = |openings: &[&Opening], what: &str| ranges(openings, layout).map(|pages| format!("{pages}: {what}."));
    let said = [said(&quiet, "nothing to say"), said(&dropped, &drawn)];
    said.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// "Page 4", "Pages 4-17, 20", by printed numbers; `None` for no pages.
fn ranges(openings: &[&Opening], layout: &Layout) -> Option<String> {
    let pages = || openings.iter().flat_map(|opening| opening.pages.iter().copied());
    let ranges: Vec<String> = Run::of(pages()).iter().map(|run| run.label(layout, '\u{2013}')).collect();
    match pages().count() {
        0 => None,
        1 => Some(format!("Page {}", ranges.concat())),
        _ => Some(format!("Pages {}", ranges.join(", "))),
    }
}
