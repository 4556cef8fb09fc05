//! What each page is: music, a part after a score, a cover, words, nothing.

use super::EngravedPage;
use crate::layout::PageKind;

/// Staves of a system of a player's part, at the most.
const PART: usize = 2;
/// A system of so many staves is one of a score.
const SCORE: usize = 4;
/// A cover has few words.
const COVER: usize = 400;

/// One entry a page.
pub(super) fn kinds(pages: &[EngravedPage]) -> Vec<PageKind> {
    let mut kinds: Vec<PageKind> = pages.iter().map(kind).collect();
    let begins = pages.iter().position(|page| !page.systems.is_empty()).unwrap_or(pages.len());
    let is_score = pages.get(begins).is_some_and(|page| staves(page) >= SCORE);
    for (at, (page, kind)) in pages.iter().zip(&mut kinds).enumerate() {
        if at < begins && *kind == PageKind::Text && letters(page) <= COVER {
            *kind = PageKind::Cover;
        }
    }
    // Parts follow the score: from where no page has a system of a score any more.
    let last = pages.iter().rposition(|page| staves(page) > PART);
    if let Some(last) = last.filter(|_| is_score) {
        for kind in kinds.iter_mut().skip(last + 1).filter(|kind| **kind == PageKind::Music) {
            *kind = PageKind::Part;
        }
    }
    kinds
}

fn kind(page: &EngravedPage) -> PageKind {
    match (page.systems.is_empty(), page.ink.is_some()) {
        (false, _) => PageKind::Music,
        (true, true) => PageKind::Text,
        (true, false) => PageKind::Blank,
    }
}

fn staves(page: &EngravedPage) -> usize {
    page.systems.iter().map(|system| system.staves.len()).max().unwrap_or(0)
}

fn letters(page: &EngravedPage) -> usize {
    page.texts.iter().map(|text| text.text.chars().count()).sum()
}
