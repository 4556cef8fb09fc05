//! Sizes of music in staff spaces, before any paper: how high things stand, how wide bars are.

mod bar_width;
mod extents;
mod spacing;
mod text_width;

pub use bar_width::BarWidths;
pub use extents::{Extent, Extents, Needed, PARTS, StaffSize};
pub use spacing::{BarSpacing, Column, Material, Spacing, SpacingRules};
pub use text_width::text_width;
