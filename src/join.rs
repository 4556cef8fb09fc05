//! Engraved pages joined with the music: which bars stand in which system, and which staff is whose.
//!
//! Systems are placed on the music by the numbers printed at them, by how many bars they have, and by how many notes
//! stand in each; staves by their number, their names and by who plays. What does not fit is told and left open.

use crate::engraved::{self, EngravedPage};
use crate::layout::{Layout, Origin, PageKind};
use crate::place::{BarIdx, BarSpan, PageIdx};
use crate::score::Score;

mod alone;
mod cost;
mod fit;
mod music;
mod place;
mod staves;
mod within;

pub use alone::alone;
pub use fit::{Fit, Missing, PageFit, PageStatus, SystemFit};

use music::Expected;

/// Pages with their music.
#[derive(Clone, Debug, PartialEq)]
pub struct Joined {
    pub layout: Layout,
    pub fit: Fit,
}

/// Finds the bars of `score` on engraved pages. Pages of other kinds than music stay as they are.
#[must_use]
pub fn join(pages: &[EngravedPage], score: &Score) -> Joined {
    let mut layout = engraved::layout(pages);
    let expected = Expected::of(score);
    let systems: Vec<(PageIdx, u16)> = layout
        .pages
        .iter()
        .zip(0..)
        .filter(|(page, _)| page.kind == PageKind::Music)
        .flat_map(|(page, at)| (0..page.systems.len()).map(move |nth| (PageIdx(at), nth as u16)))
        .collect();
    let counted: Vec<place::Counted> = systems.iter().filter_map(|at| counted(pages, *at)).collect();
    let placed = place::place(&counted, &expected);
    let mut fits = Vec::with_capacity(systems.len());
    for (((page, nth), counted), placed) in systems.iter().zip(&counted).zip(&placed) {
        let bars = placed.map_or_else(Vec::new, |span| within::spans(counted, span, &expected));
        let system = layout.pages.get_mut(page.at()).and_then(|own| own.systems.get_mut(usize::from(*nth)));
        let Some((system, engraved)) = system.zip(pages.get(page.at())) else { continue };
        for (printed, span) in system.bars.iter_mut().zip(&bars) {
            printed.bars = *span;
        }
        if let (Some(span), Some(own)) = (*placed, engraved.systems.get(usize::from(*nth))) {
            staves::tell(system, own, engraved, span, score);
            system.breaks = Origin::Matched;
        }
        fits.push(fit::of_system(*page, *nth, counted, *placed, &bars));
    }
    for page in layout.pages.iter_mut().filter(|page| page.kind == PageKind::Music) {
        page.breaks = Origin::Matched;
    }
    let fit = fit::fit(&layout, fits, score);
    Joined { layout, fit }
}

fn counted(pages: &[EngravedPage], (page, nth): (PageIdx, u16)) -> Option<place::Counted> {
    let page = pages.get(page.at())?;
    let system = page.systems.get(usize::from(nth))?;
    let label = system.number.and_then(|at| page.texts.get(at)).map(|text| text.text.clone());
    Some(place::Counted { label, bars: system.bars.iter().map(|bar| (bar.heads, bar.holds)).collect() })
}

/// From one bar to the one before another.
fn span(first: usize, end: usize) -> Option<BarSpan> {
    (first < end).then(|| BarSpan::new(BarIdx(first as u32), BarIdx(end as u32 - 1)))
}
