//! What makes a part's pages better or worse, in points: a page of paper costs thirty, everything else is weighed against
//! it.
//!
//! A turn more is worth three pages, and as long as turns can be made fewer outrank better ones. One that cannot be made
//! is worse than two that can: it gives way to a turn and a page more. No published figures were found: these are set by
//! what they do to the parts of open scores.

use super::Binding;
use crate::players::turning::{TurnClass, TurnPoint};

/// One more page.
pub(super) const PAGE: f64 = 30.0;
/// One more line: a start with clef and key.
pub(super) const LINE: f64 = 0.5;
/// Music that starts on the left, after a cover, without need.
pub(super) const OTHER_START: f64 = 2.0;
/// One more turn.
pub(super) const TURN: f64 = 95.0;
/// A page left empty, paper apart.
pub(super) const BLANK: f64 = 25.0;
/// A page that folds out: it is glued by hand. It takes the place of a turn and counts as one, so that it is worth its
/// trouble only where the player would stop playing.
pub(super) const FOLD_OUT: f64 = 85.0;
/// A multi-bar rest divided for a turn: two numbers to add up.
pub(super) const DIVIDED: f64 = 2.0;
/// A last page with a single line.
pub(super) const RUNT_PAGE: f64 = 10.0;
/// What cannot be set at all without running over: a bar wider than the line, a line higher than the page.
pub(super) const IMPOSSIBLE: f64 = 1.0e5;

const TIGHT_TURN: f64 = 280.0;
const NO_TIME: f64 = 450.0;
const ENOUGH: f64 = 3.0;
/// Everybody hears the paper.
const AUDIBLE: f64 = 4.0;
/// On a bad turn nobody plays on.
const ALONE: f64 = 15.0;

/// A line set a tenth tighter, or three tenths looser, than natural.
const STRETCHED: f64 = 8.0;
/// `ln(1 / 0.9)`.
const TIGHT: f64 = 0.105_360_515_657_826_3;
/// `ln(1.3)`.
const LOOSE: f64 = 0.262_364_264_467_491_06;

/// Set tighter than this share of natural, bars run into each other (measured: engraved parts go down to about 0.8).
pub(super) const TIGHTEST: f64 = 0.85;
/// Set looser than this a line is not tried unless nothing else goes.
pub(super) const LOOSEST: f64 = 1.9;

/// What a turn costs by its class; where the time cannot be known it is taken for tight.
pub(super) fn turn(point: Option<&TurnPoint>, binding: Binding) -> f64 {
    let class = class(point, binding);
    let own = match class.unwrap_or(TurnClass::Tight) {
        TurnClass::None => NO_TIME,
        TurnClass::Tight => TIGHT_TURN,
        TurnClass::Enough => ENOUGH,
        TurnClass::Easy => 0.0,
    };
    let is_bad = !matches!(class, Some(TurnClass::Easy | TurnClass::Enough));
    let heard = point.is_some_and(|point| point.audible) && binding != Binding::Tablet;
    let alone = is_bad && point.is_some_and(|point| point.alone);
    TURN + own + if heard { AUDIBLE } else { 0.0 } + if alone { ALONE } else { 0.0 }
}

/// The class of a turn on paper so bound: a screen is turned by a foot, so that the time is never too short for it.
pub(super) fn class(point: Option<&TurnPoint>, binding: Binding) -> Option<TurnClass> {
    let class = point?.class?;
    Some(if binding == Binding::Tablet { class.max(TurnClass::Enough) } else { class })
}

/// A line set so far from natural, as a logarithm: gentle near natural, steep beyond what engravers allow.
pub(super) fn line(tension: f64) -> f64 {
    let by = if tension < 0.0 { -tension / TIGHT } else { tension / LOOSE };
    let over = if tension < libm::log(TIGHTEST) - 1e-9 { IMPOSSIBLE } else { 0.0 };
    LINE + over + (STRETCHED * by * by * by).min(IMPOSSIBLE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tenth_tighter_is_as_bad_as_three_tenths_looser() {
        assert!((line(libm::log(0.9)) - LINE - STRETCHED).abs() < 1e-9);
        assert!((line(libm::log(1.3)) - LINE - STRETCHED).abs() < 1e-9);
    }

    // A turn without time is worth a page more, but not a turn more.
    const _: () = assert!(NO_TIME > TURN + PAGE && TIGHT_TURN > TURN + PAGE && TURN > 3.0 * PAGE);

    #[test]
    fn a_turn_whose_time_is_not_known_counts_as_tight() {
        assert_eq!(turn(None, Binding::Booklet), TURN + TIGHT_TURN);
    }
}
