//! Turns that were won and lost: bad ones that are gone, and bad ones that have come.

use std::collections::BTreeSet;

use super::Matched;
use crate::place::BarIdx;

/// A turn after a bar; bad where it leaves too little time or the unexpected stands overleaf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TurnAt {
    pub after: BarIdx,
    pub is_bad: bool,
}

/// What became of a bad turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TurnChange {
    /// The bar that it follows in the old draft; `None` where nothing bad stood there.
    pub old_after: Option<BarIdx>,
    /// The same in the new draft.
    pub new_after: Option<BarIdx>,
    pub fate: TurnFate,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TurnFate {
    /// There was time, and there is none any more.
    Lost,
    /// There was none, and now there is.
    Won,
    /// It is as bad as it was, here or elsewhere.
    StillBad,
}

/// What became of the bad turns of one player, or of the conductor. A bad turn that only went elsewhere is neither won nor
/// lost.
#[must_use]
pub fn turns(old: &[TurnAt], new: &[TurnAt], matched: &Matched) -> Vec<TurnChange> {
    let bad =
        |turns: &[TurnAt]| -> Vec<BarIdx> { turns.iter().filter(|turn| turn.is_bad).map(|turn| turn.after).collect() };
    let (mut gone, mut come) = (bad(old), bad(new));
    let mut changes = Vec::new();
    let mut still = |old: BarIdx, new: BarIdx| {
        changes.push(TurnChange { old_after: Some(old), new_after: Some(new), fate: TurnFate::StillBad });
    };
    // At their place first, then wherever.
    let places: BTreeSet<BarIdx> = come.iter().copied().collect();
    let stays: Vec<(BarIdx, BarIdx)> =
        gone.iter().filter_map(|bar| Some((*bar, matched.to_new(*bar).filter(|new| places.contains(new))?))).collect();
    for (old, new) in stays {
        still(old, new);
        gone.retain(|bar| *bar != old);
        come.retain(|bar| *bar != new);
    }
    for (old, new) in gone.iter().zip(&come) {
        still(*old, *new);
    }
    let elsewhere = gone.len().min(come.len());
    let lost = come.into_iter().skip(elsewhere);
    let won = gone.into_iter().skip(elsewhere);
    changes.extend(won.map(|bar| TurnChange {
        old_after: Some(bar),
        new_after: matched.to_new(bar),
        fate: TurnFate::Won,
    }));
    changes.extend(lost.map(|bar| TurnChange {
        old_after: matched.to_old(bar),
        new_after: Some(bar),
        fate: TurnFate::Lost,
    }));
    changes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compare::{BarPair, Music, Status};

    /// Ten bars of which bar 3 was taken out.
    fn matched() -> Matched {
        let pair = |old: u32| BarPair {
            old: Some(BarIdx(old)),
            new: (old != 3).then(|| BarIdx(if old < 3 { old } else { old - 1 })),
            status: if old == 3 { Status::Deleted } else { Status::Equal },
            over: Vec::new(),
            cells: Vec::new(),
        };
        Matched::of(&Music { bars: (0..10).map(pair).collect(), ..Music::default() })
    }

    fn at(bars: &[(u32, bool)]) -> Vec<TurnAt> {
        bars.iter().map(|(bar, is_bad)| TurnAt { after: BarIdx(*bar), is_bad: *is_bad }).collect()
    }

    fn told(old: &[(u32, bool)], new: &[(u32, bool)]) -> Vec<(Option<u32>, Option<u32>, TurnFate)> {
        let changes = turns(&at(old), &at(new), &matched());
        changes.iter().map(|own| (own.old_after.map(|bar| bar.0), own.new_after.map(|bar| bar.0), own.fate)).collect()
    }

    #[test]
    fn a_bad_turn_that_is_gone_is_won_and_one_that_came_is_lost() {
        assert_eq!(told(&[(5, true), (8, false)], &[(7, false)]), [(Some(5), Some(4), TurnFate::Won)]);
        assert_eq!(told(&[(5, false)], &[(4, true)]), [(Some(5), Some(4), TurnFate::Lost)]);
        assert_eq!(told(&[(3, true)], &[]), [(Some(3), None, TurnFate::Won)]);
    }

    #[test]
    fn a_bad_turn_that_went_elsewhere_is_neither() {
        assert_eq!(told(&[(5, true)], &[(4, true)]), [(Some(5), Some(4), TurnFate::StillBad)]);
        assert_eq!(told(&[(5, true)], &[(7, true)]), [(Some(5), Some(7), TurnFate::StillBad)]);
        let two = [(Some(5), Some(4), TurnFate::StillBad), (Some(9), Some(8), TurnFate::Lost)];
        assert_eq!(told(&[(5, true), (9, false)], &[(4, true), (8, true)]), two);
    }
}
