//! What makes pages better or worse, in points: a page of paper costs thirty, everything else is weighed against it.
//!
//! No published figures were found; all of these were set by looking at proposed pages beside recorded ones. What was
//! looked at last: two large orchestral movements that leave silent staves out (26 recorded pages against 23 proposed,
//! 39 against 26), twelve that keep them (2 pages in a hundred fewer proposed), quartets, and the demonstration (34
//! against 26). Systems are set more evenly than the recorded ones; pages that a full and a thin system share hold both
//! with the gaps that the house likes, so nothing had to be made dearer. What did make proposals worse to the eye was no
//! cost: lines as wide as the page where recorded ones leave room for names (see `paper`).

use crate::units::Spaces;

/// One more page.
pub(super) const PAGE: f64 = 30.0;
/// One more system on a page: a divider, and a line to lose.
pub(super) const SPLIT: f64 = 6.0;
/// A staff that comes or goes between two systems. Ten staves that leave and come back cost a third of a page, so that
/// one page saved in a thin passage is worth it and half a page is not.
pub(super) const TOGGLE: f64 = 0.5;
/// A silent staff left out of a system. Without it pages of one system lost half their staves and stood half empty for
/// nothing; ten staves left out of two systems still cost less than the page that this saves.
pub(super) const LEFT_OUT: f64 = 0.3;
/// A system set a tenth tighter, or three tenths looser, than natural.
const STRETCHED: f64 = 10.0;
/// `ln(1 / 0.9)`.
const TIGHT: f64 = 0.105_360_515_657_826_3;
/// `ln(1.3)`.
const LOOSE: f64 = 0.262_364_264_467_491_06;
/// Neighbouring systems set unlike each other (proposed for a start; kept).
const UNEVEN: f64 = 30.0;
/// A single bar drawn out over a line.
const LONE_BAR: f64 = 10.0;
/// A last system of a movement with next to nothing in it.
const RUNT: f64 = 30.0;
/// From this part of the line on a last system is no runt (the limit of the rule for short last systems).
const RUNT_BELOW: f64 = 0.6;
/// Something that cannot be set at all without running over: a bar wider than the line, a system taller than the page.
const IMPOSSIBLE: f64 = 1000.0;
/// A page filled to the last space.
const FULL_PAGE: f64 = 12.0;
/// Up to this part of its height a page is comfortable: the rest is what the estimate may be wrong by.
const COMFORTABLE: f64 = 0.9;
/// Beyond twice the distance from comfortable to full a page costs no more: large forces leave no choice.
const CLOSEST: f64 = 2.0;
/// A last page with nothing on it; none from half a page on.
const UNDERFULL: f64 = 8.0;

/// Set tighter than this share of natural, bars run into each other (measured: engraved parts go down to about 0.8).
pub(super) const TIGHTEST: f64 = 0.85;
/// Set looser than this a system is not tried unless nothing else goes.
pub(super) const LOOSEST: f64 = 2.2;

/// A system begins at a rehearsal mark, after a double bar, or with a tempo; a page counts it once more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Landmark {
    Rehearsal,
    DoubleBar,
    Tempo,
}

impl Landmark {
    /// Negative: it is worth having.
    pub fn cost(self) -> f64 {
        match self {
            Landmark::Rehearsal => -3.0,
            Landmark::DoubleBar => -2.0,
            Landmark::Tempo => -1.5,
        }
    }
}

/// What the line of a system costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Line {
    /// Over its natural width, as a logarithm; 0 where a last system is left short.
    pub tension: f64,
    /// Part of the line that its natural width fills.
    pub fill: f64,
    pub bars: u32,
    /// Of a movement of several systems.
    pub is_last: bool,
}

impl Line {
    pub fn cost(self) -> f64 {
        let lone = if self.bars == 1 && self.fill < 0.9 { LONE_BAR } else { 0.0 };
        let runt = if self.is_last { RUNT * square((1.0 - self.fill / RUNT_BELOW).max(0.0)) } else { 0.0 };
        let over = if self.tension < -libm::log(1.0 / TIGHTEST) - 1e-9 { IMPOSSIBLE } else { 0.0 };
        stretch(self.tension) + lone + runt + over
    }
}

/// Gentle near natural, steep beyond what engravers allow.
fn stretch(tension: f64) -> f64 {
    let by = if tension < 0.0 { -tension / TIGHT } else { tension / LOOSE };
    STRETCHED * by * by * by
}

/// Two neighbouring systems with these tensions, between which so many staves come or go.
pub(super) fn neighbours(above: f64, below: f64, toggled: u32) -> f64 {
    UNEVEN * square(above - below) + TOGGLE * f64::from(toggled)
}

/// A page filled up to here with the house's gaps. A single system may stand closer than the house likes.
///
/// Never falls as the page fills up: the search rests on that.
pub(super) fn page(used: Spaces, room: Spaces) -> f64 {
    let beyond = (fill(used, room) - COMFORTABLE) / (1.0 - COMFORTABLE);
    PAGE + FULL_PAGE * square(beyond.clamp(0.0, CLOSEST))
}

/// More for a page whose only system does not go into it even with the least gaps.
pub(super) fn overfull(least: Spaces, room: Spaces) -> f64 {
    if least > room { IMPOSSIBLE * fill(least, room) } else { 0.0 }
}

/// More for the last page. Convex and falling as the page fills up: the search rests on that.
pub(super) fn last_page(used: Spaces, room: Spaces) -> f64 {
    UNDERFULL * (1.0 - 2.0 * fill(used, room)).max(0.0)
}

fn fill(used: Spaces, room: Spaces) -> f64 {
    used / room.max(Spaces(1.0))
}

fn square(by: f64) -> f64 {
    by * by
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tenth_tighter_is_as_bad_as_three_tenths_looser() {
        assert!((stretch(libm::log(0.9)) - STRETCHED).abs() < 1e-9);
        assert!((stretch(libm::log(1.3)) - STRETCHED).abs() < 1e-9);
        assert!(stretch(libm::log(0.97)) < 0.3);
    }

    #[test]
    fn a_fuller_page_never_costs_less() {
        let costs: Vec<f64> = (0..=130).map(|used| page(Spaces(f64::from(used)), Spaces(100.0))).collect();
        assert!(costs.is_sorted());
        assert_eq!((costs[90], costs[100]), (PAGE, PAGE + FULL_PAGE));
    }

    #[test]
    fn a_last_system_of_six_tenths_is_no_runt() {
        let line = |fill| Line { tension: 0.0, fill, bars: 3, is_last: true };
        assert_eq!(line(0.6).cost(), 0.0);
        assert!(line(0.3).cost() > 7.0);
    }
}
