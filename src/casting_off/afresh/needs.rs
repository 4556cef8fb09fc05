//! How much of a page its own contents need, measured as proposed pages are.

use super::Basis;
use super::gaps::{apart, same_family};
use crate::layout::{Page, PrintedStaff, System};
use crate::metrics::{PARTS, StaffSize};
use crate::place::BarIdx;
use crate::units::{Mm, Spaces};

/// What one page holds and what it needs.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PageNeed {
    /// Staves, what stands above, below and between them, and air. An estimate.
    pub needed: Mm,
    /// Between the page's margins.
    pub room: Mm,
}

impl PageNeed {
    /// The part of the room that is needed; 1 is the whole of it.
    #[must_use]
    pub fn share(self) -> f64 {
        if self.room > Mm::ZERO { self.needed / self.room } else { 0.0 }
    }
}

/// The air that is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Air {
    /// The least gaps that can be read; systems no closer than the staves inside them.
    Least,
    /// The gaps that the house likes.
    Usual,
}

pub(super) fn need(basis: &Basis<'_>, page: &Page, air: Air) -> PageNeed {
    let margins = page.margins.value;
    let room = (page.size.value.1 - margins.top - margins.bottom).max(Mm::ZERO).rounded();
    let mut needed = Mm::ZERO;
    let mut above: Option<Ends> = None;
    for system in &page.systems {
        let Some(ends) = ends(basis, system, air) else { continue };
        needed += match &above {
            None => ends.above,
            Some(upper) => {
                let contents = upper.below + ends.above + ends.space * basis.house.clearance.0;
                contents.max(upper.apart).max(ends.apart)
            }
        };
        needed += ends.lines;
        above = Some(ends);
    }
    needed += above.map_or(Mm::ZERO, |last| last.below);
    PageNeed { needed: needed.rounded(), room }
}

/// A system in millimetres.
struct Ends {
    lines: Mm,
    above: Mm,
    below: Mm,
    /// What parts it from its neighbours.
    apart: Mm,
    /// Of its largest staff.
    space: Mm,
}

fn ends(basis: &Basis<'_>, system: &System, air: Air) -> Option<Ends> {
    let space = system.staves.iter().map(|staff| staff.height).reduce(Mm::max)? / 4.0;
    let extents = &basis.metrics.extents;
    let bars = || system.bars.iter().filter_map(|bar| bar.bars).flat_map(|span| span.iter());
    let (top, bottom) = system.staves.first().zip(system.staves.last())?;
    let heights = system.staves.iter().map(|staff| staff.bottom() - staff.top);
    let mut own = Ends {
        lines: heights.sum(),
        above: reach(bars(), top, space, |bar, size| extents.above_in_parts(bar, size)),
        below: reach(bars(), bottom, space, |bar, size| extents.below_in_parts(bar, size)),
        apart: match air {
            Air::Least => Mm::ZERO,
            Air::Usual => space * apart(basis.house, system.staves.len()).0,
        },
        space,
    };
    let bare = match air {
        Air::Least => basis.house.least_gap,
        Air::Usual => basis.house.staff_gap.max(basis.house.least_gap),
    };
    for pair in system.staves.windows(2) {
        let [upper, lower] = pair else { continue };
        let gap = space * gap(basis, bars(), (upper, lower), space, bare).0;
        own.lines += gap;
        own.apart = own.apart.max(gap);
    }
    Some(own)
}

fn reach(
    bars: impl Iterator<Item = BarIdx>,
    printed: &PrintedStaff,
    space: Mm,
    parts: impl Fn(BarIdx, StaffSize) -> [Spaces; PARTS],
) -> Mm {
    let Some(size) = size(printed, space) else { return Mm::ZERO };
    space * bars.flat_map(|bar| parts(bar, size)).fold(Spaces::ZERO, Spaces::max).0
}

/// In spaces of the largest staff; `bare` where nothing stands in it.
fn gap(
    basis: &Basis<'_>,
    bars: impl Iterator<Item = BarIdx>,
    (upper, lower): (&PrintedStaff, &PrintedStaff),
    space: Mm,
    bare: Spaces,
) -> Spaces {
    let Some((over, under)) = size(upper, space).zip(size(lower, space)) else { return bare };
    let extents = &basis.metrics.extents;
    let needed = bars.map(|bar| extents.needed(bar, over, under)).fold(Spaces::ZERO, Spaces::max);
    let contents = if needed > Spaces::ZERO { needed + basis.house.clearance } else { Spaces::ZERO };
    let factor = if same_family(basis.score, over.staff, under.staff) { 1.0 } else { basis.house.family_factor };
    contents.max(bare * factor)
}

/// In spaces of the largest staff.
fn size(printed: &PrintedStaff, space: Mm) -> Option<StaffSize> {
    let scale = if space > Mm::ZERO { printed.height / (space * 4.0) } else { 1.0 };
    Some(StaffSize { staff: printed.staff?, scale, lines: printed.lines })
}
