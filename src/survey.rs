//! Everything that needs both the music and its pages: computed once, read by rules, comparisons and reports.
//!
//! The survey measures and never judges; a rule judges and never measures.

use crate::layout::Layout;
use crate::metrics::Extents;
use crate::place::{BarIdx, BarSpan, PageIdx, StaffId};
use crate::score::Score;
use crate::units::Mm;

mod after_turn;
mod density;
mod dynamics;
mod edges;
mod forces;
mod gaps;
mod half_leaf;
mod openings;
mod pages;
mod printed;
mod timeline;
pub mod turns;

pub use density::{CellDensity, Density};
pub use edges::{Edge, EdgeReach};
pub use forces::{Forces, ForcesEntry, Instrument};
pub use gaps::{Gap, GapKind};
pub use half_leaf::HalfLeaf;
pub use openings::{AfterTurn, AfterTurnKind, Opening};
pub use pages::PageSurvey;
pub use timeline::{Landmark, Stretch, Timeline, timeline};
pub use turns::{Alternative, BackwardTurn, Turn, TurnAdvice};

/// All that was measured on one document.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Survey {
    pub density: Density,
    /// Every gap between neighbouring staves and systems, in reading order.
    pub gaps: Vec<Gap>,
    /// One entry a page.
    pub pages: Vec<PageSurvey>,
    pub openings: Vec<Opening>,
    pub timeline: Timeline,
    pub forces: Forces,
    /// One entry a system, in reading order.
    pub shown: Vec<ShownStaves>,
    /// Music beyond the margins, page by page.
    pub edges: Vec<EdgeReach>,
}

/// Measures a score on its pages; `extents` are those of the score.
#[must_use]
pub fn survey(score: &Score, layout: &Layout, extents: &Extents) -> Survey {
    let printed = printed::Printed::of(score, layout);
    let density = density::density(score, layout, &printed);
    Survey {
        pages: pages::pages(score, layout, &density),
        gaps: gaps::gaps(score, layout, extents),
        edges: edges::edges(score, layout, extents),
        openings: openings::openings(score, layout),
        timeline: timeline(score),
        forces: forces::forces(score),
        shown: shown(layout),
        density,
    }
}

/// Systems whose music is not known (measured, not yet matched) are not told of.
fn shown(layout: &Layout) -> Vec<ShownStaves> {
    let one = |system: &crate::layout::System| {
        let staves = system.staves.iter().filter_map(|staff| staff.staff).collect();
        Some(ShownStaves { bars: system.span()?, staves })
    };
    layout.systems().filter_map(|(_, _, system)| one(system)).collect()
}

impl Survey {
    /// Gaps of one page.
    pub fn gaps_of(&self, page: PageIdx) -> impl Iterator<Item = &Gap> {
        self.gaps.iter().filter(move |gap| gap.page == page)
    }

    /// The opening that a page lies in.
    #[must_use]
    pub fn opening_of(&self, page: PageIdx) -> Option<&Opening> {
        self.openings.iter().find(|opening| opening.pages.contains(&page))
    }
}

/// Height of a gap in spaces and millimetres, with the bar where its contents come closest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tightest {
    pub bar: BarIdx,
    /// What the lower staff's contents take above it plus what the upper staff's take below it, at that bar.
    pub needed: Mm,
}

/// Staves of one system that are shown, with the bars it holds: what a change of the set of staves is told by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShownStaves {
    pub bars: BarSpan,
    pub staves: Vec<StaffId>,
}

#[cfg(test)]
mod tests;
