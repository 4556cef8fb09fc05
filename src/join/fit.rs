//! How pages and music fit: system by system, page by page, and what is missing.

use super::place::{Counted, Placed};
use crate::layout::{Layout, PageKind};
use crate::place::{BarIdx, BarSpan, PageIdx};
use crate::score::Score;

/// How the pages fit the music.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Fit {
    /// Bars of the music that stand on the pages, each in a system with as many bars as the music has there.
    pub bars_matched: u32,
    pub bars_total: u32,
    /// One entry a page.
    pub pages: Vec<PageFit>,
    /// One entry a system of music, in reading order.
    pub systems: Vec<SystemFit>,
    /// Music that is on no page.
    pub missing: Vec<Missing>,
}

/// One page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PageFit {
    pub page: PageIdx,
    pub status: PageStatus,
}

/// How a page fits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PageStatus {
    /// Every system has the bars that the music has.
    Matched,
    /// Some systems have more bars or fewer, or are not found.
    Partly,
    /// None of its systems is found in the music.
    NotFound,
    /// No music, or that of a part.
    Other,
}

/// One system.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SystemFit {
    pub page: PageIdx,
    /// On its page, counted from 0.
    pub system: u16,
    /// The bar number printed at it.
    pub label_read: Option<String>,
    /// Bars printed, multi-bar rests with all their bars.
    pub bars_counted: u32,
    /// Bars of the music it was placed on.
    pub bars: Option<BarSpan>,
    /// As many of these as are told one by one.
    pub bars_matched: u32,
}

/// Bars that stand on no page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Missing {
    pub bars: BarSpan,
    /// The last system before them: its page and its place there; `None` where the pages begin after them.
    pub after: Option<(PageIdx, u16)>,
    /// The first system behind them.
    pub before: Option<(PageIdx, u16)>,
}

impl SystemFit {
    /// As many bars printed as composed.
    #[must_use]
    pub fn is_even(&self) -> bool {
        self.bars.is_some_and(|bars| bars.count() == self.bars_counted)
    }
}

impl Fit {
    /// Every bar is on the pages, and every system has its bars.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.missing.is_empty() && self.systems.iter().all(SystemFit::is_even)
    }
}

pub(super) fn of_system(
    page: PageIdx,
    system: u16,
    counted: &Counted,
    placed: Placed,
    bars: &[Option<BarSpan>],
) -> SystemFit {
    let even = placed.is_some_and(|span| span.count() as usize == counted.total());
    let one_by_one =
        bars.iter().zip(&counted.bars).filter_map(|(span, (_, holds))| span.filter(|own| own.count() == *holds));
    let told: u32 = one_by_one.map(BarSpan::count).sum();
    SystemFit {
        page,
        system,
        label_read: counted.label.clone(),
        bars_counted: counted.total() as u32,
        bars: placed,
        bars_matched: placed.map_or(0, |span| if even { span.count() } else { told.min(span.count()) }),
    }
}

pub(super) fn fit(layout: &Layout, systems: Vec<SystemFit>, score: &Score) -> Fit {
    let pages = layout.pages.iter().zip(0..).map(|(page, at)| {
        let own = systems.iter().filter(|system| system.page == PageIdx(at));
        let (mut even, mut found, mut all) = (0, 0, 0);
        for system in own {
            all += 1;
            found += usize::from(system.bars.is_some());
            even += usize::from(system.is_even());
        }
        let status = match (page.kind, all) {
            (PageKind::Music, 1..) if even == all => PageStatus::Matched,
            (PageKind::Music, 1..) if found == 0 => PageStatus::NotFound,
            (PageKind::Music, 1..) => PageStatus::Partly,
            _ => PageStatus::Other,
        };
        PageFit { page: PageIdx(at), status }
    });
    Fit {
        bars_matched: systems.iter().map(|system| system.bars_matched).sum(),
        bars_total: score.bars.len() as u32,
        pages: pages.collect(),
        missing: missing(&systems, score.bars.len()),
        systems,
    }
}

/// Gaps between the bars of neighbouring systems, before the first and after the last.
fn missing(systems: &[SystemFit], bars: usize) -> Vec<Missing> {
    let mut missing = Vec::new();
    let (mut next, mut after) = (0, None);
    let place = |system: &SystemFit| (system.page, system.system);
    for system in systems {
        let Some(span) = system.bars else { continue };
        if let Some(gap) = super::span(next, span.first.at()) {
            missing.push(Missing { bars: gap, after, before: Some(place(system)) });
        }
        next = BarIdx(span.last.0 + 1).at();
        after = Some(place(system));
    }
    if let Some(gap) = super::span(next, bars) {
        missing.push(Missing { bars: gap, after, before: None });
    }
    missing
}
