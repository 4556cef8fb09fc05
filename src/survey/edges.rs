//! How near music comes to the edges of its page.

use crate::layout::{Layout, Page, PrintedStaff, System};
use crate::metrics::Extents;
use crate::place::{BarIdx, PageIdx, StaffId};
use crate::units::{Mm, Spaces};

/// Music that reaches beyond a margin, at the bar where it reaches farthest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeReach {
    pub page: PageIdx,
    /// The system on its page, counted from 0.
    pub system: u16,
    pub edge: Edge,
    pub staff: StaffId,
    pub bar: BarIdx,
    /// Beyond the page's margin.
    pub beyond: Mm,
    /// From the edge of the paper; negative when it runs off the page.
    pub from_edge: Mm,
}

/// The edges that music runs into; the left one belongs to names and braces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Edge {
    Top,
    Right,
    Bottom,
}

/// Everything that stands beyond a margin, one entry a page and edge.
pub(super) fn edges(layout: &Layout, extents: &Extents) -> Vec<EdgeReach> {
    let pages = layout.pages.iter().enumerate();
    pages.flat_map(|(at, page)| of_page(PageIdx(at as u32), page, extents)).flatten().collect()
}

fn of_page(at: PageIdx, page: &Page, extents: &Extents) -> [Option<EdgeReach>; 3] {
    let ((width, height), margins) = (page.size.value, page.margins.value);
    let reach = |edge, system: usize, staff: &PrintedStaff, bar, from_edge: Mm, margin: Mm| {
        let beyond = (margin - from_edge).rounded();
        let staff = staff.staff.filter(|_| beyond > Mm::ZERO)?;
        let system = u16::try_from(system).unwrap_or(u16::MAX);
        Some(EdgeReach { page: at, system, edge, staff, bar, beyond, from_edge: from_edge.rounded() })
    };
    let top = page.systems.first().and_then(|system| {
        let first = system.staves.first()?;
        let (bar, above) = farthest(system, first, |bar, staff| extents.at(bar, staff).above)?;
        reach(Edge::Top, 0, first, bar, first.top - above, margins.top)
    });
    let bottom = page.systems.last().and_then(|system| {
        let last = system.staves.last()?;
        let (bar, below) = farthest(system, last, |bar, staff| extents.at(bar, staff).below)?;
        let line = last.top + last.height;
        reach(Edge::Bottom, page.systems.len() - 1, last, bar, height - line - below, margins.bottom)
    });
    let widest = page.systems.iter().enumerate().reduce(|a, b| if b.1.rect.right > a.1.rect.right { b } else { a });
    let right = widest.and_then(|(nth, system)| {
        let (first, bar) = (system.staves.first()?, system.bars.last()?.bars?.last);
        reach(Edge::Right, nth, first, bar, width - system.rect.right, margins.right)
    });
    [top, right, bottom]
}

/// The first of the bars in which a staff's music reaches farthest, and how far.
fn farthest(system: &System, staff: &PrintedStaff, extent: impl Fn(BarIdx, StaffId) -> Spaces) -> Option<(BarIdx, Mm)> {
    let id = staff.staff?;
    let bars = system.bars.iter().filter_map(|bar| bar.bars).flat_map(|span| span.iter());
    let reaches = bars.map(|bar| (bar, extent(bar, id).on_staff(staff.height)));
    reaches.reduce(|most, one| if one.1 > most.1 { one } else { most })
}
