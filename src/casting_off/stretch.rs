//! How tightly systems are set, against the spacing that their house calls natural.

use super::calibrate::width;
use crate::layout::Layout;
use crate::metrics::Spacing;

/// Tells each system of known music how far it is stretched. Systems that already know it keep their value.
pub fn tell_stretch(layout: &mut Layout, spacing: &Spacing, natural_force: f64) {
    for system in layout.pages.iter_mut().flat_map(|page| &mut page.systems) {
        system.stretch = system.stretch.or_else(|| {
            let force = spacing.force_for(system.span()?, width(system)?) / natural_force;
            (force.is_finite() && force > 0.0).then_some(force)
        });
    }
}
