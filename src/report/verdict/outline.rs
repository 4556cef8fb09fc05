//! What is said of the pages of an outline.

use crate::check::Checked;
use crate::place::BarIdx;
use crate::score::{Score, SystemMarkKind};
use crate::words;

/// How far off: beside the notes of the same music, plans made of open scores are at most 26 % off (the accuracy
/// program), and what is estimated from notes is itself some percent off.
const ROUGH: &str = "This is an outline, not the notes: its pages are a rougher estimate than those of a score, and may \
                     be a quarter too many or too few.";

/// What the pages rest on, and how many the proposal would take.
pub fn basis(checked: &Checked) -> String {
    match proposed(checked) {
        Some(proposed) => format!("{ROUGH} {proposed}"),
        None => ROUGH.to_owned(),
    }
}

fn proposed(checked: &Checked) -> Option<String> {
    let pages = &checked.proposal.as_ref()?.layout.pages;
    let several = pages.iter().filter(|page| page.systems.len() > 1);
    // A page that a passage begins on is found by that passage.
    let several: Vec<BarIdx> = several.filter_map(|page| page.span()).map(|bars| bars.last).collect();
    let would = format!("Divided by hand about {} would do", words::counted(pages.len(), "page"));
    if several.is_empty() {
        return Some(format!("{would}, one system on each."));
    }
    // Only where each of them is found by a letter, or some would be looked for in the wrong place.
    let letters: Option<Vec<&str>> = several.iter().map(|bar| letter(&checked.score, *bar)).collect();
    let from = letters.map_or_else(String::new, |mut letters| {
        letters.dedup();
        format!(" (after {})", words::all_listed(&letters))
    });
    Some(format!("{would}; {} of them would hold two systems or more{from}.", several.len()))
}

/// The rehearsal mark that a bar is found by.
fn letter(score: &Score, bar: BarIdx) -> Option<&str> {
    let before = score.marks.iter().take_while(|mark| mark.bar <= bar);
    before
        .filter_map(|mark| if let SystemMarkKind::Rehearsal(text) = &mark.kind { Some(text.as_str()) } else { None })
        .last()
}
