//! The room that recorded pages have, and the proposed pages that they are held against.

use super::Case;
use super::pages::is_told;
use crate::casting_off::{PageNeed, Proposal};
use crate::guidelines::Percent;
use crate::layout::Page;
use crate::place::{BarSpan, PageIdx};
use crate::survey::{Gap, GapKind};
use crate::units::Spaces;

/// What the room of pages cannot be judged without.
pub(super) const NEEDED: &str = "recorded page sizes, margins, staff heights and breaks";

/// A recorded page and what its music needs.
#[derive(Clone, Copy)]
pub(super) struct Room<'a> {
    pub(super) at: PageIdx,
    pub(super) page: &'a Page,
    pub(super) need: PageNeed,
}

impl Room<'_> {
    /// Whether more than this share of the height is lacking.
    pub(super) fn lacks(&self, slack: Percent) -> bool {
        self.need.needed > (self.need.room * (1.0 + slack.factor())).rounded()
    }

    /// In whole per cent.
    pub(super) fn percent(&self) -> f64 {
        (self.need.share() * 100.0).round()
    }
}

impl<'a> Case<'a> {
    /// Pages of music whose paper, staves and bars the document tells, and the proposal that measured them.
    pub(super) fn told_rooms(&self) -> Option<(Vec<Room<'a>>, &'a Proposal)> {
        let proposal = self.proposal?;
        let case = *self;
        let rooms = case.music_pages().filter(|(at, page)| case.tells_room(*at, page)).filter_map(|(at, page)| {
            let need = proposal.needs.get(at.at()).copied()?;
            Some(Room { at, page, need })
        });
        let rooms: Vec<Room<'a>> = rooms.collect();
        (!rooms.is_empty()).then_some((rooms, proposal))
    }

    fn tells_room(&self, at: PageIdx, page: &Page) -> bool {
        let mut staves = page.systems.iter().flat_map(|system| &system.staves);
        is_told(page.size.origin)
            && is_told(page.margins.origin)
            && self.tells_bars(at)
            && staves.all(|staff| is_told(staff.sized))
    }

    /// Gaps of a page, between staves or between systems, whose contents run into each other by more than so much.
    pub(super) fn collisions(&self, page: PageIdx, between_systems: bool, by: Spaces) -> Vec<&'a Gap> {
        let own = self.told_gaps().filter(|gap| gap.page == page && (gap.kind == GapKind::Systems) == between_systems);
        own.filter(|gap| self.clearance(gap).0 < -by.0).collect()
    }
}

/// Proposed pages with any of these bars.
pub(super) fn proposed(proposal: &Proposal, bars: BarSpan) -> impl Iterator<Item = &Page> {
    let meets = move |own: BarSpan| own.first <= bars.last && bars.first <= own.last;
    proposal.layout.pages.iter().filter(move |page| page.span().is_some_and(meets))
}
