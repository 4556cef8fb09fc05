//! Votes: what one number explains most of the recorded lines or pages.

/// What ends a line or page early (a mark, a turn, a person's wish) is not seen; that it holds more than goes on it is
/// hardly ever meant. So one that would hold more than `up_to` weighs a little more than one left short: without it a
/// few lines that a person broke early outvote the others.
const OVERFULL: u32 = 6;
const LEFT_SHORT: u32 = 5;

/// Numbers that explain where one line or page ends: above `over`, up to `up_to`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Vote {
    pub over: f64,
    pub up_to: f64,
}

impl Vote {
    /// `None` where nothing explains it.
    pub fn new(over: f64, up_to: f64) -> Option<Vote> {
        (over >= 0.0 && over < up_to && up_to.is_finite()).then_some(Vote { over, up_to })
    }
}

/// The middle of the numbers that most votes hold for; of the lowest such range where there are several. Exact, in
/// `n log n` steps.
pub(super) fn elected(votes: &[Vote]) -> Option<f64> {
    // Just above 0 every vote asks for more.
    let mut against = LEFT_SHORT * u32::try_from(votes.len()).ok()?;
    let mut turns: Vec<(f64, bool)> = votes.iter().flat_map(|vote| [(vote.over, true), (vote.up_to, false)]).collect();
    turns.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let mut best: Option<(u32, Vote)> = None;
    for pair in turns.windows(2) {
        let &[(over, begins), (up_to, _)] = pair else { continue };
        against = if begins { against.saturating_sub(LEFT_SHORT) } else { against + OVERFULL };
        if over < up_to && best.is_none_or(|(least, _)| against < least) {
            best = Some((against, Vote { over, up_to }));
        }
    }
    best.map(|(_, range)| (range.over + range.up_to) / 2.0)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn votes(ranges: &[(f64, f64)]) -> Vec<Vote> {
        ranges.iter().filter_map(|&(over, up_to)| Vote::new(over, up_to)).collect()
    }

    #[test]
    fn the_number_that_most_vote_for_is_elected() {
        // Three agree between 1.25 and 1.5; the fourth stands apart.
        assert_eq!(elected(&votes(&[(1.0, 1.5), (1.25, 1.75), (0.5, 2.0), (4.0, 9.0)])), Some(1.375));
    }

    #[test]
    fn a_line_left_short_is_forgiven_sooner_than_one_too_full() {
        assert_eq!(elected(&votes(&[(3.0, 5.0), (1.0, 2.0)])), Some(1.5));
    }

    #[test]
    fn ranges_that_only_touch_do_not_agree() {
        assert_eq!(elected(&votes(&[(2.0, 4.0), (1.0, 2.0)])), Some(1.5));
    }

    #[test]
    fn nobody_elects_nothing() {
        assert_eq!(elected(&[]), None);
        assert_eq!(Vote::new(2.0, 1.0), None);
        assert_eq!(Vote::new(1.0, f64::INFINITY), None);
        assert_eq!(Vote::new(f64::NAN, 1.0), None);
    }

    proptest! {
        #[test]
        fn no_other_number_has_more_votes(ranges in prop::collection::vec((0.0..4.0f64, 0.01..2.0f64), 1..20), other in 0.01..6.0f64) {
            let votes: Vec<Vote> = ranges.iter().filter_map(|(over, width)| Vote::new(*over, over + width)).collect();
            let against = |number: f64| {
                let cost = |vote: &Vote| {
                    if number <= vote.over { LEFT_SHORT } else if number > vote.up_to { OVERFULL } else { 0 }
                };
                votes.iter().map(cost).sum::<u32>()
            };
            let found = elected(&votes).unwrap_or(0.0);
            prop_assert!(against(found) <= against(other), "{found} loses to {other}");
        }
    }
}
