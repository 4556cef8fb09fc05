//! Gaps between staves and systems, against what stands in them.

use super::Tightest;
use crate::layout::{Layout, Page, PrintedStaff, System};
use crate::metrics::{Extents, PARTS, StaffSize};
use crate::place::{BarIdx, PageIdx, StaffId};
use crate::score::{Family, Score};
use crate::units::{Mm, Spaces};

/// The room between two staves that stand above each other, or between two systems.
#[derive(Clone, Debug, PartialEq)]
pub struct Gap {
    pub page: PageIdx,
    /// The system of the lower staff, from 0 on its page.
    pub system: u16,
    pub kind: GapKind,
    pub upper: StaffId,
    pub lower: StaffId,
    /// Of the upper staff's bottom line, from the page's top.
    pub top: Mm,
    /// From the upper staff's bottom line to the lower staff's top line; negative when they overlap.
    pub height: Mm,
    /// The same in spaces of the larger of the two staves.
    pub spaces: Spaces,
    /// Where the contents come closest; `None` when nothing stands in the gap.
    pub tightest: Option<Tightest>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum GapKind {
    /// Two staves of one part (keyboard, harp).
    Part,
    /// Two parts of one family.
    Family,
    /// Two families.
    Families,
    /// Two systems.
    Systems,
}

impl Gap {
    /// White left between the contents of the two staves where they come closest; the whole gap when it is empty.
    #[must_use]
    pub fn clearance(&self) -> Mm {
        self.height - self.tightest.map_or(Mm::ZERO, |tightest| tightest.needed)
    }
}

/// Every gap, page by page: inside a system from its top down, then the one to the system below.
pub(super) fn gaps(score: &Score, layout: &Layout, extents: &Extents) -> Vec<Gap> {
    let mut gaps = Vec::new();
    for (page, contents) in layout.pages.iter().enumerate() {
        add_page(score, PageIdx(page as u32), contents, extents, &mut gaps);
    }
    gaps
}

fn add_page(score: &Score, page: PageIdx, contents: &Page, extents: &Extents, gaps: &mut Vec<Gap>) {
    for (at, system) in contents.systems.iter().enumerate() {
        if let Some(above) = at.checked_sub(1).and_then(|above| contents.systems.get(above)) {
            gaps.extend(between_systems(page, at as u16, above, system, extents));
        }
        for pair in system.staves.windows(2) {
            let [upper, lower] = pair else { continue };
            let Some((upper_id, lower_id)) = upper.staff.zip(lower.staff) else { continue };
            let space = upper.height.max(lower.height) / 4.0;
            let (over, under) = (size(upper, upper_id, space), size(lower, lower_id, space));
            let needs = bars(system).map(|bar| Tightest { bar, needed: space * extents.needed(bar, over, under).0 });
            let kind = kind(score, upper_id, lower_id);
            gaps.push(gap(page, at as u16, kind, (upper, upper_id), (lower, lower_id), tightest(needs)));
        }
    }
}

fn gap(
    page: PageIdx,
    system: u16,
    kind: GapKind,
    upper: (&PrintedStaff, StaffId),
    lower: (&PrintedStaff, StaffId),
    tightest: Option<Tightest>,
) -> Gap {
    let top = upper.0.bottom();
    let height = (lower.0.top - top).rounded();
    let spaces = height.in_spaces(upper.0.height.max(lower.0.height));
    Gap { page, system, kind, upper: upper.1, lower: lower.1, top, height, spaces, tightest }
}

fn kind(score: &Score, upper: StaffId, lower: StaffId) -> GapKind {
    let part = |staff: StaffId| score.staves.get(staff.at()).map(|staff| staff.part);
    let family = |staff| score.part_of(staff).map_or(Family::Unknown, |part| part.family);
    if part(upper) == part(lower) {
        return GapKind::Part;
    }
    match (family(upper), family(lower)) {
        // Where a part's family is not known nobody can say that one ends here.
        (Family::Unknown, _) | (_, Family::Unknown) => GapKind::Family,
        (one, other) if one == other => GapKind::Family,
        _ => GapKind::Families,
    }
}

/// Measured in spaces of the larger of two staves.
fn size(printed: &PrintedStaff, staff: StaffId, space: Mm) -> StaffSize {
    let scale = if space > Mm::ZERO { printed.height / (space * 4.0) } else { 1.0 };
    StaffSize { staff, scale, lines: printed.lines }
}

fn bars(system: &System) -> impl Iterator<Item = BarIdx> {
    system.bars.iter().filter_map(|bar| bar.bars).flat_map(|span| span.iter())
}

/// The first of the bars that need most; `None` when none needs anything.
fn tightest(needs: impl Iterator<Item = Tightest>) -> Option<Tightest> {
    let most = needs.reduce(|most, one| if one.needed > most.needed { one } else { most })?;
    let needed = most.needed.rounded();
    (needed > Mm::ZERO).then_some(Tightest { needed, ..most })
}

fn between_systems(page: PageIdx, at: u16, above: &System, below: &System, extents: &Extents) -> Option<Gap> {
    let (upper, lower) = (above.staves.last()?, below.staves.first()?);
    let (upper_id, lower_id) = upper.staff.zip(lower.staff)?;
    let space = upper.height.max(lower.height) / 4.0;
    let (over, under) = (size(upper, upper_id, space), size(lower, lower_id, space));
    let hanging = outline(above, |bar| extents.below_in_parts(bar, over), space);
    let standing = outline(below, |bar| extents.above_in_parts(bar, under), space);
    let tightest = tightest(meetings(&hanging, &standing).into_iter());
    Some(gap(page, at, GapKind::Systems, (upper, upper_id), (lower, lower_id), tightest))
}

/// What stands over a stretch of paper.
#[derive(Clone, Copy)]
struct Step {
    left: Mm,
    right: Mm,
    height: Mm,
    bar: BarIdx,
}

fn outline(system: &System, parts: impl Fn(BarIdx) -> [Spaces; PARTS], space: Mm) -> Vec<Step> {
    let mut steps = Vec::with_capacity(system.bars.len() * PARTS);
    for printed in &system.bars {
        let Some(span) = printed.bars else { continue };
        let width = (printed.right - printed.left) / f64::from(span.count()) / PARTS as f64;
        let mut left = printed.left;
        for bar in span.iter() {
            for height in parts(bar) {
                steps.push(Step { left, right: left + width, height: space * height.0, bar });
                left += width;
            }
        }
    }
    steps
}

/// Where steps of the two outlines stand over each other; told by the lower system's bar.
fn meetings(hanging: &[Step], standing: &[Step]) -> Vec<Tightest> {
    let mut meetings = Vec::with_capacity(hanging.len() + standing.len());
    let (mut at, mut against) = (0, 0);
    while let (Some(one), Some(other)) = (hanging.get(at), standing.get(against)) {
        if one.left < other.right && other.left < one.right {
            meetings.push(Tightest { bar: other.bar, needed: one.height + other.height });
        }
        if one.right < other.right { at += 1 } else { against += 1 }
    }
    meetings
}
