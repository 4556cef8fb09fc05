//! Where the player turns on pages as they are.

use super::{Binding, sheet};
use crate::layout::{Layout, Page};
use crate::place::{BarIdx, PageIdx};

/// The bars after which the player turns, and the page that each ends; the last page of music is not turned.
///
/// In booklets it is turned after each right-hand page, whatever stands on it; sheets and strips lie three beside each
/// other; a screen shows one page. Pages whose music is not known are passed over.
#[must_use]
pub fn turned_bars(layout: &Layout, binding: Binding) -> Vec<(BarIdx, PageIdx)> {
    let Some(last) = layout.pages.iter().rposition(has_music) else { return Vec::new() };
    let mut read = None;
    let mut turns = Vec::new();
    // Pages before the first one of music, a cover, are none of the sheets on the stand.
    let first = layout.pages.iter().position(has_music).unwrap_or(0);
    for (at, page) in layout.pages.iter().enumerate().take(last).skip(first) {
        read = page.span().map(|span| span.last).or(read);
        let is_outer = match binding {
            Binding::Booklet | Binding::Cover => page.is_recto(),
            _ => (at - first + 1).is_multiple_of(usize::from(sheet::pages_at_once(binding))),
        };
        if let Some(bar) = read.filter(|_| is_outer) {
            turns.push((bar, PageIdx(at as u32)));
        }
    }
    turns
}

fn has_music(page: &Page) -> bool {
    page.span().is_some()
}
