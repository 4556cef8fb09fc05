//! How tightly systems are set, against the spacing that their house calls natural.

use super::calibrate::width;
use crate::layout::{Layout, System};
use crate::metrics::Spacing;
use crate::place::BarSpan;
use crate::units::{Mm, Spaces};

/// Tells each system of known music how far it is stretched. Systems that already know it keep their value.
pub fn tell_stretch(layout: &mut Layout, spacing: &Spacing, natural_force: f64) {
    for system in layout.pages.iter_mut().flat_map(|page| &mut page.systems) {
        system.stretch = system.stretch.or_else(|| {
            let force = spacing.force_for(system.span()?, width(system)?) / natural_force;
            (force.is_finite() && force > 0.0).then_some(force)
        });
    }
}

/// The widths that springs and rods give to the printed bars of a system as wide as it is. `None` where its music is not
/// known.
#[must_use]
pub fn fitted_widths(system: &System, spacing: &Spacing) -> Option<Vec<Mm>> {
    let printed: Vec<BarSpan> = system.bars.iter().map(|bar| bar.bars).collect::<Option<_>>()?;
    let force = spacing.force_for(system.span()?, width(system)?);
    let widths = spaced(spacing, &printed, force);
    let all: Spaces = widths.iter().copied().sum();
    let by = (system.rect.right - system.rect.left) / all.0;
    (all > Spaces::ZERO && by.0.is_finite()).then(|| widths.iter().map(|width| by * width.0).collect())
}

/// Widths of the printed bars of one system under one force, clefs and keys at both its ends included.
pub(super) fn spaced(spacing: &Spacing, printed: &[BarSpan], force: f64) -> Vec<Spaces> {
    let mut widths: Vec<Spaces> =
        printed.iter().map(|span| span.iter().map(|bar| spacing.bar_at(bar, force)).sum()).collect();
    let ends = printed.first().zip(printed.last());
    let (start, both) = ends.map_or((Spaces::ZERO, Spaces::ZERO), |(first, last)| {
        (spacing.bar(first.first).start, spacing.ends(BarSpan::new(first.first, last.last)))
    });
    if let Some(first) = widths.first_mut() {
        *first += start;
    }
    if let Some(last) = widths.last_mut() {
        *last += both - start;
    }
    widths
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Rect;
    use crate::layout::{Origin, PrintedBar, PrintedStaff, StaffRole};
    use crate::place::BarIdx;
    use crate::score::Score;

    /// The first bars of a score as a system so wide.
    fn system(bars: u32, right: Mm) -> System {
        let staff = PrintedStaff {
            staff: None,
            lines: 5,
            top: Mm::ZERO,
            height: Mm(4.0),
            role: StaffRole::Normal,
            placed: Origin::Recorded,
            sized: Origin::Recorded,
        };
        let bar =
            |bar| PrintedBar { left: Mm::ZERO, right, bars: Some(BarSpan::one(BarIdx(bar))), placed: Origin::Recorded };
        System {
            rect: Rect::new(Mm::ZERO, Mm::ZERO, right, Mm(4.0)),
            staves: vec![staff],
            bars: (0..bars).map(bar).collect(),
            divider_above: None,
            breaks: Origin::Recorded,
            stretch: None,
        }
    }

    #[test]
    fn fitted_bars_fill_their_system_and_music_that_is_not_known_has_none() {
        let files: &[u8] = include_bytes!("../demo/lantern-ferry-1.mxl");
        let reading =
            crate::read::read(&[crate::read::Input { name: "1.mxl", bytes: files }], &crate::limits::Limits::default());
        let score: Score = reading.map(|reading| reading.score).unwrap_or_default();
        let spacing = Spacing::of(&score);
        let mut own = system(5, Mm(180.0));
        let widths = fitted_widths(&own, &spacing).unwrap_or_default();
        assert_eq!(widths.len(), 5);
        assert!((widths.iter().copied().sum::<Mm>().0 - 180.0).abs() < 1e-9, "{widths:?}");
        assert!(widths.iter().all(|width| width.0 > 10.0), "{widths:?}");
        own.bars[2].bars = None;
        assert_eq!(fitted_widths(&own, &spacing), None);
    }
}
