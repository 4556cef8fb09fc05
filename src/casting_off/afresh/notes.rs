//! What a proposal saves against the pages at hand, and what it gives up for that.

use super::needs::{self, Air, PageNeed};
use super::{Basis, Proposal};
use crate::layout::{Layout, Page, System};
use crate::place::{BarIdx, BarSpan, PageIdx, StaffId};
use crate::units::{Mm, Spaces};

/// One thing worth telling.
#[derive(Clone, Debug, PartialEq)]
pub enum ProposalNote {
    /// Several systems on a page, where the pages at hand do not have them so.
    Split(Split),
    /// Fewer pages for the same bars.
    Saved(Saved),
    /// A page that cannot hold even one system of these bars.
    Overfull { page: PageIdx, bars: BarSpan },
}

/// A page that is divided between several systems.
#[derive(Clone, Debug, PartialEq)]
pub struct Split {
    /// Of the proposal.
    pub page: PageIdx,
    /// From the top.
    pub systems: Vec<SplitSystem>,
    /// The narrowest gap between two of its systems, in spaces of their largest staff.
    pub gap: Spaces,
    pub has_divider: bool,
    /// With the gaps that the house likes.
    pub need: PageNeed,
    pub given_up: Vec<GivenUp>,
}

/// One system of a divided page.
#[derive(Clone, Debug, PartialEq)]
pub struct SplitSystem {
    pub bars: BarSpan,
    pub staves: Vec<StaffId>,
}

/// Bars that both layouts begin and end a page with.
#[derive(Clone, Debug, PartialEq)]
pub struct Saved {
    pub bars: BarSpan,
    /// Pages at hand and pages proposed.
    pub before: u32,
    pub after: u32,
    pub given_up: Vec<GivenUp>,
}

/// What is paid for it.
#[derive(Clone, Debug, PartialEq)]
pub enum GivenUp {
    /// Staves left out that the same bars show now, in score order.
    LeftOut(Vec<StaffId>),
    /// The tightest system is set at this share of its natural width.
    Tighter(f64),
    /// The narrowest gap between two staves, where it is narrower than the house likes.
    Closer(Spaces),
}

impl ProposalNote {
    /// The bars that it is about.
    #[must_use]
    pub fn bars(&self) -> Option<BarSpan> {
        match self {
            ProposalNote::Split(split) => split.bars(),
            ProposalNote::Saved(saved) => Some(saved.bars),
            ProposalNote::Overfull { bars, .. } => Some(*bars),
        }
    }
}

impl Split {
    /// First and last bar of its systems.
    #[must_use]
    pub fn bars(&self) -> Option<BarSpan> {
        Some(BarSpan::new(self.systems.first()?.bars.first, self.systems.last()?.bars.last))
    }
}

/// Set tighter than this is worth a word.
const NATURAL: f64 = 0.97;

pub(super) fn notes(basis: &Basis<'_>, proposal: &Proposal) -> Vec<ProposalNote> {
    let mut notes = saved(basis, proposal);
    notes.extend(splits(basis, proposal));
    for (at, page) in proposal.layout.pages.iter().enumerate() {
        let foot = page.size.value.1 - page.margins.value.bottom;
        let overfull = page.systems.len() == 1 && page.systems.iter().any(|system| system.rect.bottom > foot);
        if let Some(bars) = page.span().filter(|_| overfull) {
            notes.push(ProposalNote::Overfull { page: PageIdx(at as u32), bars });
        }
    }
    notes
}

fn splits(basis: &Basis<'_>, proposal: &Proposal) -> Vec<ProposalNote> {
    let split = |(at, page): (usize, &Page)| {
        let bars = page.span().filter(|_| page.systems.len() > 1)?;
        // Where the same bars share pages now, nothing new is proposed.
        if !is_divided_anew(basis.pages, page) {
            return None;
        }
        let systems = page.systems.iter().filter_map(|system| {
            let staves = system.staves.iter().filter_map(|staff| staff.staff).collect();
            Some(SplitSystem { bars: system.span()?, staves })
        });
        let gaps = page.systems.windows(2).filter_map(|pair| match pair {
            [upper, lower] => Some((lower.rect.top - upper.rect.bottom).in_spaces(largest(pair)?)),
            _ => None,
        });
        Some(ProposalNote::Split(Split {
            page: PageIdx(at as u32),
            systems: systems.collect(),
            gap: gaps.reduce(Spaces::min)?,
            need: needs::need(basis, page, Air::Usual),
            has_divider: page.systems.iter().any(|system| system.divider_above == Some(true)),
            given_up: given_up(basis, bars, std::slice::from_ref(page)),
        }))
    };
    proposal.layout.pages.iter().enumerate().filter_map(split).collect()
}

/// A page of several systems some bars of which have a page for themselves now.
fn is_divided_anew(pages: &Layout, page: &Page) -> bool {
    page.systems.iter().filter_map(System::span).any(|bars| {
        let now = pages.find(bars.first).and_then(|(page, ..)| pages.pages.get(page.at()));
        now.is_some_and(|now| now.systems.len() == 1)
    })
}

fn largest(systems: &[System]) -> Option<Mm> {
    systems.iter().flat_map(|system| &system.staves).map(|staff| staff.height).reduce(Mm::max)
}

fn saved(basis: &Basis<'_>, proposal: &Proposal) -> Vec<ProposalNote> {
    let (now, then) = (begins(basis.pages), begins(&proposal.layout));
    let end = BarIdx(basis.score.bars.len() as u32);
    let mut meeting: Vec<BarIdx> = now.iter().copied().filter(|bar| then.binary_search(bar).is_ok()).collect();
    meeting.push(end);
    let stretch = |pair: &[BarIdx]| {
        let &[first, next] = pair else { return None };
        let within = |bar: &&BarIdx| first <= **bar && **bar < next;
        let (before, after) = (now.iter().filter(within).count(), then.iter().filter(within).count());
        let bars = BarSpan::new(first, BarIdx(next.0.checked_sub(1)?));
        if after >= before {
            return None;
        }
        let own = |page: &Page| page.span().is_some_and(|span| bars.contains(span.first));
        let proposed: Vec<Page> = proposal.layout.pages.iter().filter(|page| own(page)).cloned().collect();
        Some(ProposalNote::Saved(Saved {
            bars,
            before: before as u32,
            after: after as u32,
            given_up: given_up(basis, bars, &proposed),
        }))
    };
    meeting.windows(2).filter_map(stretch).collect()
}

/// First bars of all pages.
fn begins(layout: &Layout) -> Vec<BarIdx> {
    layout.pages.iter().filter_map(Page::span).map(|bars| bars.first).collect()
}

fn given_up(basis: &Basis<'_>, bars: BarSpan, pages: &[Page]) -> Vec<GivenUp> {
    let mut given_up = Vec::new();
    let shown = |systems: &mut dyn Iterator<Item = &System>| {
        let mut staves: Vec<StaffId> = systems.flat_map(|own| &own.staves).filter_map(|staff| staff.staff).collect();
        staves.sort_unstable();
        staves.dedup();
        staves
    };
    let meets = |system: &System| system.span().is_some_and(|own| own.first <= bars.last && bars.first <= own.last);
    let now = shown(&mut basis.pages.systems().map(|(_, _, system)| system).filter(|system| meets(system)));
    let then = shown(&mut pages.iter().flat_map(|page| &page.systems));
    let left_out: Vec<StaffId> = now.into_iter().filter(|staff| !then.contains(staff)).collect();
    if !left_out.is_empty() {
        given_up.push(GivenUp::LeftOut(left_out));
    }
    let tightest = pages.iter().flat_map(|page| &page.systems).filter_map(|own| own.stretch).reduce(f64::min);
    given_up.extend(tightest.filter(|stretch| *stretch < NATURAL).map(GivenUp::Tighter));
    let gaps = pages.iter().flat_map(|page| &page.systems).flat_map(|system| {
        system.staves.windows(2).filter_map(|pair| match pair {
            [upper, lower] => Some((lower.top - upper.bottom()).in_spaces(upper.height.max(lower.height))),
            _ => None,
        })
    });
    let narrowest = gaps.reduce(Spaces::min).filter(|gap| gap.0 < basis.house.staff_gap.0 - 0.05);
    given_up.extend(narrowest.map(GivenUp::Closer));
    given_up
}
