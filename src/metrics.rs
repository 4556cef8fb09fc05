//! Sizes of music in staff spaces, before any paper: how high things stand, how wide bars are.

use crate::score::Score;

mod bar_width;
mod extents;
mod spacing;
mod text_width;

pub use bar_width::BarWidths;
pub use extents::{Extent, Extents, PARTS, StaffSize};
pub use spacing::{BarSpacing, Column, Material, Spacing, SpacingRules};
pub use text_width::text_width;

/// All that casting off needs to know of the music; measured once, whatever papers it is then cast off on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Metrics {
    pub spacing: Spacing,
    pub extents: Extents,
}

impl Metrics {
    /// Measures a score.
    #[must_use]
    pub fn of(score: &Score) -> Metrics {
        Metrics { spacing: Spacing::of(score), extents: Extents::of(score) }
    }
}
