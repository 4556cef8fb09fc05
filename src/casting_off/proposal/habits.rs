//! What the pages at hand tell of the house that made them.

use super::{Basis, Staves, Wishes};
use crate::layout::Origin;
use crate::units::Mm;

/// Fewer recorded systems than this tell nothing.
const LEAST_SYSTEMS: usize = 3;

impl Wishes {
    /// What a house wants that made these pages: its natural spacing, and whether it leaves silent staves out. Pages
    /// that nobody recorded tell nothing, and silent staves may be left out.
    #[must_use]
    pub fn by_habit(basis: &Basis<'_>) -> Wishes {
        let told = basis.pages.systems().any(|(_, _, system)| system.breaks != Origin::Estimated);
        let staves = if told { Staves::by_habit(basis.score, basis.pages) } else { Staves::Playing };
        Wishes { staves, natural_force: natural_force(basis), ..Wishes::default() }
    }
}

/// The middle one of the forces that fill the recorded systems, movements' last systems apart.
fn natural_force(basis: &Basis<'_>) -> f64 {
    let told = basis.pages.systems().filter(|(_, _, system)| system.breaks != Origin::Estimated);
    let mut forces: Vec<f64> = told
        .filter_map(|(_, _, system)| {
            let bars = system.span()?;
            let is_last = basis.score.movement_of(bars.first).is_none_or(|own| own.bars.last == bars.last);
            let height = system.staves.iter().map(|staff| staff.height).reduce(Mm::max)?;
            if is_last || bars.count() == 1 || height <= Mm::ZERO {
                return None;
            }
            let width = (system.rect.right - system.rect.left).in_spaces(height);
            Some(basis.spacing.force_for(bars, width)).filter(|force| force.is_finite() && *force > 0.0)
        })
        .collect();
    forces.sort_unstable_by(f64::total_cmp);
    if forces.len() < LEAST_SYSTEMS { 1.0 } else { forces.get(forces.len() / 2).copied().unwrap_or(1.0) }
}
