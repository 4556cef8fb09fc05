//! How near music comes to the edges of its page.

use crate::layout::{Layout, Page, PrintedStaff, System};
use crate::metrics::{Extents, PARTS, StaffSize};
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
        let (bar, above) = farthest(system, first, |bar, size| extents.above_in_parts(bar, size))?;
        reach(Edge::Top, 0, first, bar, first.top - above, margins.top)
    });
    let bottom = page.systems.last().and_then(|system| {
        let last = system.staves.last()?;
        let (bar, below) = farthest(system, last, |bar, size| extents.below_in_parts(bar, size))?;
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
fn farthest(
    system: &System,
    staff: &PrintedStaff,
    extent: impl Fn(BarIdx, StaffSize) -> [Spaces; PARTS],
) -> Option<(BarIdx, Mm)> {
    let size = StaffSize { staff: staff.staff?, scale: 1.0, lines: staff.lines };
    let bars = system.bars.iter().filter_map(|bar| bar.bars).flat_map(|span| span.iter());
    let reaches = bars.map(|bar| {
        let parts = extent(bar, size).into_iter();
        (bar, parts.map(|part| part.on_staff(staff.height)).fold(Mm::ZERO, Mm::max))
    });
    reaches.reduce(|most, one| if one.1 > most.1 { one } else { most })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::casting_off::{House, pages};
    use crate::fixture::{self, QUARTET, distance, put, quarter};
    use crate::score::Score;

    /// Four staves of 4 mm, 8 mm apart, on A4 with the house's margins of 15 mm; the top line 15 mm + `top` down.
    fn reaches(score: &Score, top: f64) -> Vec<EdgeReach> {
        with_indent(score, top, Mm::ZERO)
    }

    /// With systems that end `right` before the margin.
    fn with_indent(score: &Score, top: f64, right: Mm) -> Vec<EdgeReach> {
        let mut record = fixture::record(score, Mm(4.0));
        record.defaults[0].page.size = Some((Mm(210.0), Mm(297.0)));
        record.defaults[0].system.top_distance = Some(Mm(top));
        record.defaults[0].staves = (1..4).map(|staff| distance(staff, 8.0)).collect();
        record.defaults[0].system.right = Some(right);
        edges(&pages(score, &record, &House::default()), &Extents::of(score))
    }

    #[test]
    fn music_within_the_margins_is_not_told_of() {
        assert_eq!(reaches(&fixture::score(&QUARTET, 2), 100.0), []);
    }

    #[test]
    fn a_staff_below_the_bottom_margin_is_told_by_how_far_it_reaches() {
        // The fourth staff's bottom line stands 15 + 230 + 4 x 4 + 3 x 8 = 285 mm down, 12 mm from the edge.
        let reaches = reaches(&fixture::score(&QUARTET, 2), 230.0);
        let told: Vec<_> = reaches.iter().map(|own| (own.edge, own.staff, own.beyond, own.from_edge)).collect();
        assert_eq!(told, [(Edge::Bottom, StaffId(3), Mm(3.0), Mm(12.0))]);
    }

    #[test]
    fn the_bar_that_reaches_farthest_is_named() {
        let mut score = fixture::score(&QUARTET, 2);
        put(&mut score, 1, 0, vec![quarter("C8", 0)]);
        let reaches = reaches(&score, 1.0);
        let told: Vec<_> = reaches.iter().map(|own| (own.edge, own.staff, own.bar)).collect();
        assert_eq!(told, [(Edge::Top, StaffId(0), BarIdx(1))]);
    }

    #[test]
    fn systems_that_run_beyond_the_right_margin_are_told_by_their_end() {
        let reaches = with_indent(&fixture::score(&QUARTET, 40), 100.0, Mm(-10.0));
        let told: Vec<_> = reaches.iter().map(|own| (own.edge, own.staff, own.beyond, own.from_edge)).collect();
        assert_eq!(told.first(), Some(&(Edge::Right, StaffId(0), Mm(10.0), Mm(5.0))));
    }
}
