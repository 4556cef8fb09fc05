//! Where a finding stands, in words: "Page 12, bar 45, and 3 more places".

use crate::check::Checked;
use crate::place::Place;
use crate::rules::Finding;

/// The first place, and how many more there are.
pub(super) fn words(finding: &Finding, checked: &Checked) -> String {
    let first = finding.places.first().map_or_else(whole, |place| one(place, checked));
    match finding.places.len() {
        0 | 1 => first,
        2 => format!("{first}, and 1 more place"),
        places => format!("{first}, and {} more places", places - 1),
    }
}

fn one(place: &Place, checked: &Checked) -> String {
    let page = place.page.and_then(|page| checked.layout.pages.get(page.at())).map(|page| page.label.as_str());
    let bar = place.bars.map(|bars| checked.score.label(bars.first)).filter(|label| !label.is_empty());
    match (page, bar) {
        (Some(page), Some(bar)) => format!("Page {page}, bar {bar}"),
        (Some(page), None) => format!("Page {page}"),
        (None, Some(bar)) => format!("Bar {bar}"),
        (None, None) => whole(),
    }
}

fn whole() -> String {
    "Whole score".to_owned()
}
