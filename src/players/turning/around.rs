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
}

impl Around {
    #[must_use]
    pub fn of(score: &Score) -> Around {
        Around {
            sounds: score.cells.iter().map(crate::score::Cell::sounds).collect(),
            staves: score.staves.len(),
            parts: score.staves.iter().map(|staff| staff.part).collect(),
        }
    }

    /// Nobody sounds in the bars on both sides of the barline that ends a bar.
    pub(super) fn all_silent(&self, bar: BarIdx) -> bool {
        self.staves > 0 && !self.bar(bar.0).iter().chain(self.bar(bar.0 + 1)).any(|sounds| *sounds)
    }

    /// Parts that sound on both sides of a barline, but for those of the player.
    pub(super) fn sounding_across(&self, bar: BarIdx, own: &[StaffId]) -> Vec<PartId> {
        let own: Vec<PartId> = own.iter().filter_map(|staff| self.parts.get(staff.at()).copied()).collect();
        let both = self.bar(bar.0).iter().zip(self.bar(bar.0 + 1)).map(|(before, after)| *before && *after);
        let mut parts: Vec<PartId> = both
            .zip(&self.parts)
            .filter(|(sounds, part)| *sounds && !own.contains(part))
            .map(|(_, part)| *part)
            .collect();
        parts.dedup();
        parts
    }

    fn bar(&self, bar: u32) -> &[bool] {
        let from = bar as usize * self.staves;
        self.sounds.get(from..from + self.staves).unwrap_or_default()
    }
}
