//! How near music comes to the edges of its page.

use crate::layout::{Layout, Origin, Page, PrintedBar, PrintedStaff, System};
use crate::metrics::{Extents, PARTS, StaffSize};
use crate::place::{BarIdx, PageIdx, StaffId};
use crate::score::{MarkKind, Score, StaffMark};
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
    /// Recorded for staves and for marks whose places the file tells, estimated for what stands at the staves.
    pub origin: Origin,
}

/// The edges that music runs into; the left one belongs to names and braces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Edge {
    Top,
    Right,
    Bottom,
}

impl Edge {
    /// "top", "right", "bottom".
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Edge::Top => "top",
            Edge::Right => "right",
            Edge::Bottom => "bottom",
        }
    }
}

/// A point of some music, seen from the page's top left corner.
#[derive(Clone, Copy)]
struct Point {
    edge: Edge,
    staff: StaffId,
    bar: BarIdx,
    /// Downwards for the top and the bottom edge, rightwards for the right one.
    at: Mm,
    origin: Origin,
}

/// Everything that stands beyond a margin: for each page, edge and staff what the file records, and what is estimated.
pub(super) fn edges(score: &Score, layout: &Layout, extents: &Extents) -> Vec<EdgeReach> {
    let pages = layout.pages.iter().enumerate();
    pages.flat_map(|(at, page)| of_page(score, PageIdx(at as u32), page, extents)).collect()
}

fn of_page(score: &Score, at: PageIdx, page: &Page, extents: &Extents) -> Vec<EdgeReach> {
    let mut reaches: Vec<EdgeReach> = Vec::new();
    for (nth, system) in page.systems.iter().enumerate() {
        let mut points = recorded(score, system);
        points.extend(estimated(system, extents, nth == 0, nth + 1 == page.systems.len()));
        let own = points.into_iter().filter_map(|point| reach(at, nth, page, point));
        for reach in own {
            let key = |own: &EdgeReach| (own.edge, own.staff, own.origin);
            let alike = |other: &&mut EdgeReach| key(other) == key(&reach);
            match reaches.iter_mut().find(alike) {
                Some(farthest) if reach.beyond > farthest.beyond => *farthest = reach,
                Some(_) => {}
                None => reaches.push(reach),
            }
        }
    }
    reaches.sort_by_key(|reach| (reach.edge, reach.staff));
    reaches
}

/// `None` within the margin.
fn reach(at: PageIdx, system: usize, page: &Page, point: Point) -> Option<EdgeReach> {
    let ((width, height), margins) = (page.size.value, page.margins.value);
    let (from_edge, margin) = match point.edge {
        Edge::Top => (point.at, margins.top),
        Edge::Right => (width - point.at, margins.right),
        Edge::Bottom => (height - point.at, margins.bottom),
    };
    let (beyond, from_edge) = ((margin - from_edge).rounded(), from_edge.rounded());
    let Point { edge, staff, bar, origin, .. } = point;
    let system = u16::try_from(system).unwrap_or(u16::MAX);
    (beyond > Mm::ZERO).then_some(EdgeReach { page: at, system, edge, staff, bar, beyond, from_edge, origin })
}

/// The staves' own ends, and marks whose places the file tells.
fn recorded(score: &Score, system: &System) -> Vec<Point> {
    let bar_at = |printed: Option<&PrintedBar>| printed.and_then(|bar| bar.bars);
    let (Some(first), Some(last)) = (bar_at(system.bars.first()), bar_at(system.bars.last())) else {
        return Vec::new();
    };
    let mut points = Vec::new();
    let upper = system.staves.first().and_then(|staff| staff.staff);
    points.extend(upper.map(|staff| Point {
        edge: Edge::Right,
        staff,
        bar: last.last,
        at: system.rect.right,
        origin: Origin::Recorded,
    }));
    for staff in &system.staves {
        let Some(id) = staff.staff else { continue };
        let point = |edge, bar, at| Point { edge, staff: id, bar, at, origin: Origin::Recorded };
        points.push(point(Edge::Top, first.first, staff.top));
        points.push(point(Edge::Bottom, first.first, staff.bottom()));
        for printed in &system.bars {
            // Of a multi-bar rest nobody knows where its later bars begin.
            let Some(bar) = printed.bars.filter(|bars| bars.count() == 1).map(|bars| bars.first) else { continue };
            for mark in score.cell(bar, id).into_iter().flat_map(|cell| &cell.marks) {
                points.extend(mark.at.x.map(|x| point(Edge::Right, bar, printed.left + x + mark.at.dx)));
                points.extend(baseline(mark).map(|y| point(Edge::Bottom, bar, staff.top + y)));
            }
        }
    }
    points
}

/// How far below the staff's top line a mark of letters stands.
fn baseline(mark: &StaffMark) -> Option<Mm> {
    let is_text = matches!(mark.kind, MarkKind::Dynamic(_) | MarkKind::Words(_));
    mark.at.y.filter(|_| is_text).map(|y| y + mark.at.dy)
}

/// What stands above a page's first staff and below its last one.
fn estimated(system: &System, extents: &Extents, is_first: bool, is_last: bool) -> Vec<Point> {
    let above = system.staves.first().filter(|_| is_first).and_then(|first| {
        let (staff, bar, above) = farthest(system, first, |bar, size| extents.above_in_parts(bar, size))?;
        Some(Point { edge: Edge::Top, staff, bar, at: first.top - above, origin: Origin::Estimated })
    });
    let below = system.staves.last().filter(|_| is_last).and_then(|last| {
        let (staff, bar, below) = farthest(system, last, |bar, size| extents.below_in_parts(bar, size))?;
        Some(Point { edge: Edge::Bottom, staff, bar, at: last.bottom() + below, origin: Origin::Estimated })
    });
    above.into_iter().chain(below).collect()
}

/// The first of the bars in which a staff's music reaches farthest, and how far.
fn farthest(
    system: &System,
    staff: &PrintedStaff,
    extent: impl Fn(BarIdx, StaffSize) -> [Spaces; PARTS],
) -> Option<(StaffId, BarIdx, Mm)> {
    let id = staff.staff?;
    let size = StaffSize { staff: id, scale: 1.0, lines: staff.lines };
    let bars = system.bars.iter().filter_map(|bar| bar.bars).flat_map(|span| span.iter());
    let reaches = bars.map(|bar| {
        let parts = extent(bar, size).into_iter();
        (id, bar, parts.map(|part| part.on_staff(staff.height)).fold(Mm::ZERO, Mm::max))
    });
    reaches.reduce(|most, one| if one.2 > most.2 { one } else { most })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::casting_off::{House, pages};
    use crate::fixture::{self, QUARTET, distance, put, quarter};
    use crate::metrics::Metrics;
    use crate::score::Position;
    use crate::units::Fraction;

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
        edges(score, &pages(score, &Metrics::of(score), &record, &House::default()), &Extents::of(score))
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
        assert_eq!(told.first(), Some(&(Edge::Bottom, StaffId(3), Mm(3.0), Mm(12.0))));
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

    #[test]
    fn a_mark_is_beyond_the_margin_where_the_file_says_so() {
        let mut score = fixture::score(&QUARTET, 1);
        let at = Position { y: Some(Mm(9.0)), ..Position::default() };
        let mark = StaffMark { at, ..StaffMark::new(Fraction::ZERO, MarkKind::Dynamic("f".to_owned())) };
        score.cells[3].marks.push(mark);
        // The fourth staff's top line stands 15 + 222 + 3 x 12 = 273 mm down, the "f" 282 mm: at the margin.
        assert_eq!(recorded_only(&reaches(&score, 222.0)), []);
        let told = recorded_only(&reaches(&score, 223.0));
        assert_eq!(told, [(Edge::Bottom, StaffId(3), Mm(1.0))]);
    }

    fn recorded_only(reaches: &[EdgeReach]) -> Vec<(Edge, StaffId, Mm)> {
        let recorded = reaches.iter().filter(|own| own.origin == Origin::Recorded);
        recorded.map(|own| (own.edge, own.staff, own.beyond)).collect()
    }
}
