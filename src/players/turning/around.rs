//! What everybody else does at a barline.

use crate::place::{BarIdx, PartId, StaffId};
use crate::score::Score;

/// Who sounds in each bar of a work; made once, asked by every player.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Around {
    /// Bar by bar, each staff: whether it sounds.
    sounds: Vec<bool>,
    staves: usize,
    /// Of each staff.
    parts: Vec<PartId>,
    /// By bar: the parts that sound on both sides of the barline that ends it.
    across: Vec<Vec<PartId>>,
}

impl Around {
    #[must_use]
    pub fn of(score: &Score) -> Around {
        let mut around = Around {
            sounds: score.cells.iter().map(crate::score::Cell::sounds).collect(),
            staves: score.staves.len(),
            parts: score.staves.iter().map(|staff| staff.part).collect(),
            across: Vec::new(),
        };
        around.across = (0..score.bars.len() as u32).map(|bar| around.both_sides(bar)).collect();
        around
    }

    fn both_sides(&self, bar: u32) -> Vec<PartId> {
        let both = self.bar(bar).iter().zip(self.bar(bar + 1)).map(|(before, after)| *before && *after);
        let mut parts: Vec<PartId> =
            both.zip(&self.parts).filter(|(sounds, _)| *sounds).map(|(_, part)| *part).collect();
        parts.dedup();
        parts
    }

    /// Nobody sounds in the bars on both sides of the barline that ends a bar.
    pub(super) fn all_silent(&self, bar: BarIdx) -> bool {
        self.staves > 0 && !self.bar(bar.0).iter().chain(self.bar(bar.0 + 1)).any(|sounds| *sounds)
    }

    /// Parts that sound on both sides of a barline, but for those of the player.
    pub(super) fn sounding_across(&self, bar: BarIdx, own: &[StaffId]) -> Vec<PartId> {
        let is_own = |part: &PartId| own.iter().any(|staff| self.parts.get(staff.at()) == Some(part));
        let across = self.across.get(bar.0 as usize).map_or(&[][..], Vec::as_slice);
        across.iter().copied().filter(|part| !is_own(part)).collect()
    }

    fn bar(&self, bar: u32) -> &[bool] {
        let from = bar as usize * self.staves;
        self.sounds.get(from..from + self.staves).unwrap_or_default()
    }
}
