//! Calibration: the force of the spacing that a house calls natural, found by voting.
//!
//! Whoever fills lines from left to right puts on each as many bars as go on it at natural width. A recorded system
//! thus votes for the forces at which its bars fit its line and one bar more would not. What most systems vote for is
//! the house's own: it says where lines end. The middle of the forces that stretch the recorded systems to their lines
//! does not: it lies above the natural one by whatever room the lines had to spare.

use super::vote::{Vote, elected};
use crate::layout::{Layout, Origin, System};
use crate::metrics::Spacing;
use crate::place::{BarIdx, BarSpan};
use crate::score::Score;
use crate::units::{Mm, Spaces};

/// Fewer recorded systems than this tell nothing.
const LEAST_SYSTEMS: usize = 3;
/// Widths of bars are estimated about so well (share of the recorded width, open scores): votes reach so much further.
const TOLERANCE: f64 = 0.02;

/// The natural force that most recorded systems of some pages are set with. `None` where too few are recorded.
#[must_use]
pub fn natural_force(score: &Score, layout: &Layout, spacing: &Spacing) -> Option<f64> {
    natural_force_of(score, layout.systems().map(|(_, _, system)| system), spacing)
}

/// The same from a few of the systems. Takes time in proportion to their bars and to `n log n` of their number.
#[must_use]
pub fn natural_force_of<'a>(
    score: &Score,
    systems: impl Iterator<Item = &'a System>,
    spacing: &Spacing,
) -> Option<f64> {
    let votes: Vec<Vote> = systems.filter_map(|system| vote(score, system, spacing)).collect();
    if votes.len() < LEAST_SYSTEMS { None } else { elected(&votes) }
}

/// Width of a system's staves, in spaces of its largest staff.
pub(super) fn width(system: &System) -> Option<Spaces> {
    let height = system.staves.iter().map(|staff| staff.height).reduce(Mm::max).filter(|height| *height > Mm::ZERO)?;
    Some((system.rect.right - system.rect.left).in_spaces(height))
}

/// A movement's last system ends where the music ends: it has no vote.
fn vote(score: &Score, system: &System, spacing: &Spacing) -> Option<Vote> {
    let bars = system.span().filter(|_| system.breaks != Origin::Estimated)?;
    let movement = score.movement_of(bars.first)?.bars;
    let next = BarIdx(bars.last.0.checked_add(1)?);
    if !movement.contains(next) {
        return None;
    }
    // A multi-bar rest goes on a line as a whole.
    let rest = score.bar(next).and_then(|bar| bar.multi_bar_rest).unwrap_or(1).max(1);
    let longer = BarSpan::new(bars.first, BarIdx(next.0.saturating_add(rest - 1).min(movement.last.0)));
    let width = width(system)?;
    let (over, up_to) = (spacing.force_for(longer, width), spacing.force_for(bars, width));
    Vote::new(over * (1.0 - TOLERANCE), up_to * (1.0 + TOLERANCE))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::casting_off::{House, pages};
    use crate::fixture::{QUARTET, put, quarter, record, score};
    use crate::metrics::Metrics;

    /// Bars of four quarters, so many on each recorded system.
    fn recorded(bars_a_system: u32, systems: u32) -> (Score, Layout, Metrics) {
        let mut score = score(&QUARTET, bars_a_system * systems);
        for bar in 0..bars_a_system * systems {
            put(&mut score, bar, 0, (0..4).map(|beat| quarter("A4", beat)).collect());
        }
        let metrics = Metrics::of(&score);
        let mut record = record(&score, Mm(7.0));
        for system in 1..systems {
            record.bars[(system * bars_a_system) as usize].new_system = Some(true);
        }
        let layout = pages(&score, &metrics, &record, &House::default());
        (score, layout, metrics)
    }

    #[test]
    fn at_the_natural_force_recorded_bars_fit_and_one_more_does_not() {
        let (score, layout, metrics) = recorded(6, 8);
        let force = natural_force(&score, &layout, &metrics.spacing).unwrap_or(0.0);
        for (_, _, system) in layout.systems().skip(1).take(5) {
            let (bars, width) = (system.span().unwrap(), width(system).unwrap());
            let longer = BarSpan::new(bars.first, BarIdx(bars.last.0 + 1));
            assert!(metrics.spacing.width_at(bars, force) <= width);
            assert!(metrics.spacing.width_at(longer, force) > width);
        }
    }

    #[test]
    fn fewer_bars_a_system_are_spaced_wider() {
        let force = |bars| {
            let (score, layout, metrics) = recorded(bars, 8);
            natural_force(&score, &layout, &metrics.spacing).unwrap_or(0.0)
        };
        assert!(force(4) > force(6));
    }

    #[test]
    fn two_systems_tell_nothing() {
        let (score, layout, metrics) = recorded(6, 3);
        assert_eq!(natural_force(&score, &layout, &metrics.spacing), None);
    }

    #[test]
    fn estimated_breaks_tell_nothing() {
        let (score, mut layout, metrics) = recorded(6, 8);
        layout.pages.iter_mut().flat_map(|page| &mut page.systems).for_each(|own| own.breaks = Origin::Estimated);
        assert_eq!(natural_force(&score, &layout, &metrics.spacing), None);
    }
}
