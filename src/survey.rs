//! Everything that needs both the music and its pages: computed once, read by rules, comparisons and reports.
//!
//! The survey measures and never judges; a rule judges and never measures.

use crate::place::{BarIdx, BarSpan, PageIdx, PartId, StaffId};
use crate::units::{Mm, Seconds, Spaces};

mod density;
mod gaps;
mod openings;
mod timeline;

pub use density::{CellDensity, Density};
pub use gaps::{Gap, GapKind};
pub use openings::{AfterTurn, AfterTurnKind, Opening};
pub use timeline::{Landmark, Stretch, Timeline};

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
}

/// One page as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct PageSurvey {
    pub page: PageIdx,
    /// Height from the first staff's top line to the last staff's bottom line over the height between the margins.
    pub fill: f64,
    /// Dense end of the page's cells (90th of 100 sorted by density), symbols per 100 spaces of sounding staff.
    pub density: Option<f64>,
    /// Seconds of music on it.
    pub seconds: Option<Seconds>,
}

/// Who plays: counted from the list of parts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Forces {
    /// In score order.
    pub players: Vec<ForcesEntry>,
}

/// One instrument of the forces.
#[derive(Clone, Debug, PartialEq)]
pub struct ForcesEntry {
    /// Which line of the forces it counts for.
    pub instrument: Instrument,
    /// Players; `None` where the names do not tell (strings, chorus).
    pub players: Option<u32>,
    /// Doublings: which player (from 1, when told) takes which instrument, as abbreviations ("II=picc").
    pub doublings: Vec<(Option<u32>, String)>,
    pub parts: Vec<PartId>,
}

/// The places of a forces line, in its order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Instrument {
    Flute,
    Oboe,
    Clarinet,
    Bassoon,
    Saxophone,
    Horn,
    Trumpet,
    Trombone,
    Tuba,
    Timpani,
    Percussion,
    Harp,
    Keyboard,
    Soloist,
    Voices,
    ViolinI,
    ViolinII,
    Viola,
    Cello,
    DoubleBass,
    Other,
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

/// What stands above or below a staff in one bar, from its outer lines, in spaces of that staff; at least 0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Extent {
    pub above: Spaces,
    pub below: Spaces,
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
