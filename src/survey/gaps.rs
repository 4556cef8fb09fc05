//! Gaps between staves and systems, against what stands in them.

use super::Tightest;
use crate::place::{PageIdx, StaffId};
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
