//! Page maps: the pages that have findings, drawn small and to scale as the conductor sees them, with a numbered mark
//! at each place and the words beside it.
//!
//! One sheet an opening; the worst page follows once more by itself. Sheets are A4 on their side.

use std::collections::BTreeSet;

use super::frame::Frame;
use super::greys::Quarters;
use crate::layout::Layout;
use crate::report::pdf::{Bookmark, Document, PageId, Target};
use crate::rules::Finding;
use crate::score::Score;
use crate::survey::Survey;

mod choose;
mod columns;
mod dimension;
mod marks;
mod opening;
mod pens;
mod plate;
mod room;
mod sheet;
mod spots;
mod stage;
mod told;
mod view;
mod words;
mod worst;

/// What the maps are drawn from.
#[derive(Clone, Debug)]
pub struct Subject<'a> {
    pub score: &'a Score,
    pub layout: &'a Layout,
    pub survey: &'a Survey,
    /// In the order of their numbers, which count from 1.
    pub findings: &'a [Finding],
    quarters: Quarters,
}

impl<'a> Subject<'a> {
    #[must_use]
    pub fn new(score: &'a Score, layout: &'a Layout, survey: &'a Survey, findings: &'a [Finding]) -> Subject<'a> {
        Subject { score, layout, survey, findings, quarters: Quarters::of(&survey.density) }
    }
}

/// How many sheets the maps may take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extent {
    /// Openings whose findings weigh most, at most so many sheets in all.
    AtMost(usize),
    /// Every opening that has findings.
    Full,
}

/// What was drawn.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Drawn {
    pub sheets: Vec<PageId>,
    /// Numbers of the findings that have a mark; each has the anchor [`anchor`].
    pub marked: BTreeSet<usize>,
}

/// The name of the place of a finding's first mark on the maps.
#[must_use]
pub fn anchor(number: usize) -> String {
    format!("map-{number}")
}

/// The name of the place where a finding is told on the first pages.
#[must_use]
pub fn entry_anchor(number: usize) -> String {
    format!("finding-{number}")
}

/// Draws the maps as new last sheets of `doc`, with their bookmarks. `entries` are the numbers of the findings that
/// have an [`entry_anchor`] somewhere in the document: the words of the maps lead there.
pub fn write(
    doc: &mut Document,
    frame: &Frame<'_>,
    subject: &Subject<'_>,
    extent: Extent,
    entries: &BTreeSet<usize>,
) -> Drawn {
    let choice = choose::choose(subject, extent, |opening| opening::sheets(subject, opening));
    let mut stage = stage::Stage::new(frame, subject, entries);
    for sheet in &choice.openings {
        opening::draw(doc, &mut stage, sheet);
    }
    if let Some(page) = &choice.worst {
        worst::draw(doc, &mut stage, page);
    }
    let (drawn, bookmarks) = stage.done();
    if let Some(first) = drawn.sheets.first() {
        let mut all = Bookmark::new("Page maps", Target::Page(*first, sheet::LEFT));
        all.children = bookmarks;
        doc.bookmark(all);
    }
    drawn
}

#[cfg(test)]
mod tests;
