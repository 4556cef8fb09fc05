//! Parts of pages that may be judged: what is estimated is not.

use super::Case;
use crate::guidelines::{Document, Limit};
use crate::layout::{Origin, Page, PageKind, PrintedStaff, StaffRole, System};
use crate::place::{PageIdx, Place, StaffId};
use crate::survey::{Edge, EdgeReach};
use crate::units::Mm;

/// A staff with its page and system.
#[derive(Clone, Copy)]
pub(super) struct Standing<'a> {
    pub(super) page: PageIdx,
    pub(super) at: u16,
    pub(super) system: &'a System,
    pub(super) staff: &'a PrintedStaff,
}

/// Neither guessed nor computed.
pub(super) fn is_told(origin: Origin) -> bool {
    origin != Origin::Estimated
}

impl<'a> Case<'a> {
    /// A single instrument's music is a player's part, everything else a score.
    pub(super) fn document(&self) -> Document {
        if self.score.parts.len() == 1 { Document::Part } else { Document::Score }
    }

    pub(super) fn is_part(&self) -> bool {
        self.document() == Document::Part
    }

    /// Smaller ensembles play without one (common practice).
    pub(super) fn has_conductor(&self) -> bool {
        const LEAST_PARTS: usize = 7;
        self.score.parts.len() >= LEAST_PARTS
    }

    /// The limit for scores or the one for parts, whichever this document is.
    pub(super) fn limit<'l, T>(&self, score: &'l Limit<T>, part: &'l Limit<T>) -> &'l Limit<T> {
        if self.is_part() { part } else { score }
    }

    /// Pages that bear music, in order.
    pub(super) fn music_pages(&self) -> impl Iterator<Item = (PageIdx, &'a Page)> + use<'a> {
        let pages = self.layout.pages.iter().enumerate();
        pages.filter(|(_, page)| !page.systems.is_empty()).map(|(at, page)| (PageIdx(at as u32), page))
    }

    /// The same without those of parts that follow a score in its file.
    pub(super) fn own_pages(&self) -> impl Iterator<Item = (PageIdx, &'a Page)> + use<'a> {
        self.music_pages().filter(|(_, page)| page.kind != PageKind::Part)
    }

    /// Pages of music whose size the document tells: width, height.
    pub(super) fn told_sizes(&self) -> impl Iterator<Item = (PageIdx, (Mm, Mm))> + use<'a> {
        let told = self.own_pages().filter(|(_, page)| is_told(page.size.origin));
        told.map(|(at, page)| (at, (page.size.value.0.rounded(), page.size.value.1.rounded())))
    }

    /// Pages of music whose margins the document tells.
    pub(super) fn told_margins(&self) -> impl Iterator<Item = (PageIdx, &'a Page)> + use<'a> {
        self.own_pages().filter(|(_, page)| is_told(page.margins.origin) && is_told(page.size.origin))
    }

    /// Music beyond margins, where both the margins and the staff's place are told.
    pub(super) fn told_edges(&self) -> impl Iterator<Item = &'a EdgeReach> + use<'a> {
        let case = *self;
        case.survey.edges.iter().filter(move |own| {
            // On printed pages the ink itself is seen.
            let page = case
                .page(own.page)
                .filter(|page| page.seen.is_none())
                .filter(|page| is_told(page.margins.origin) && is_told(page.size.origin));
            let system = page.and_then(|page| page.systems.get(usize::from(own.system)));
            system.is_some_and(|system| match own.edge {
                Edge::Top | Edge::Bottom => system.staves.iter().all(|staff| is_told(staff.placed)),
                Edge::Right => system.bars.iter().all(|bar| is_told(bar.placed)),
            })
        })
    }

    /// Systems whose first and last bar the document tells.
    pub(super) fn told_systems(&self) -> impl Iterator<Item = (PageIdx, u16, &'a System)> + use<'a> {
        self.layout.systems().filter(|(_, _, system)| is_told(system.breaks))
    }

    /// Whether a page's first and last bars and those of its systems are told.
    pub(super) fn tells_bars(&self, page: PageIdx) -> bool {
        self.page(page).is_some_and(|page| is_told(page.breaks) && page.systems.iter().all(|own| is_told(own.breaks)))
    }

    pub(super) fn tells_all_bars(&self) -> bool {
        self.music_pages().all(|(page, _)| self.tells_bars(page))
    }

    /// Staves of full size (no cues, no ossias) whose height the document tells.
    pub(super) fn told_staves(&self) -> impl Iterator<Item = Standing<'a>> + use<'a> {
        let case = *self;
        let own = move |page: PageIdx| case.page(page).is_some_and(|page| page.kind != PageKind::Part);
        self.layout.systems().filter(move |(page, _, _)| own(*page)).flat_map(|(page, at, system)| {
            let staves = system.staves.iter().map(move |staff| Standing { page, at, system, staff });
            staves.filter(|own| {
                is_told(own.staff.sized) && own.staff.role == StaffRole::Normal && own.staff.height > Mm::ZERO
            })
        })
    }

    /// The pages as places; the first alone stands for all of them, when it is all.
    pub(super) fn on_pages(&self, pages: &[PageIdx]) -> Vec<Place> {
        match pages.first().filter(|_| self.is_all_pages(pages)) {
            Some(first) => vec![Place { everywhere: true, ..self.on_page(*first) }],
            None => pages.iter().map(|page| self.on_page(*page)).collect(),
        }
    }

    /// Whether these are all pages with music, and more than one.
    pub(super) fn is_all_pages(&self, pages: &[PageIdx]) -> bool {
        pages.len() > 1 && pages.len() == self.music_pages().count()
    }

    /// Staves in reading order as places: one a system.
    pub(super) fn on_standing(&self, staves: &[Standing<'_>]) -> Vec<Place> {
        let systems = staves.chunk_by(|one, other| (one.page, one.at) == (other.page, other.at));
        let place = |own: &[Standing<'_>]| {
            let first = own.first()?;
            let ids: Vec<StaffId> = own.iter().filter_map(|own| own.staff.staff).collect();
            Some(self.on_staves(first.page, first.at, first.system, &ids))
        };
        systems.filter_map(place).collect()
    }
}
