//! How much there is to read: one bar of one staff is one cell.

use crate::place::{BarIdx, StaffId};

/// The density grid.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Density {
    pub staves: usize,
    /// Bar by bar, each bar's staves from the top: `bars * staves` cells.
    pub cells: Vec<CellDensity>,
}

/// What there is to read in one bar of one staff.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CellDensity {
    /// Weighted symbols: noteheads, rests, accidentals, marks, text.
    pub symbols: f32,
    /// Symbols per 100 spaces of staff at the bar's printed width; `None` when it is silent or not on a page.
    pub per_100_spaces: Option<f32>,
    pub sounds: bool,
}

impl Density {
    #[must_use]
    pub fn cell(&self, bar: BarIdx, staff: StaffId) -> CellDensity {
        if staff.at() >= self.staves {
            return CellDensity::default();
        }
        self.cells.get(bar.at() * self.staves + staff.at()).copied().unwrap_or_default()
    }
}
