//! Blocks of bars that stand elsewhere in the second draft.

use std::collections::BTreeMap;
use std::ops::Range;

use super::Step;

/// Bars of both drafts that are not yet held at their place.
pub(super) struct Loose<'a> {
    pub left: &'a [u64],
    pub right: &'a [u64],
    left_state: Vec<State>,
    right_state: Vec<State>,
    moved: Vec<(usize, usize)>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    Loose,
    Held,
    Moved,
}

/// Bars of one draft between two anchors: those that keep their order, and those of moved blocks.
pub(super) struct Sorted {
    pub stay: Vec<usize>,
    pub moved: Vec<usize>,
}

/// Of bars that stand more than once, so many in a row that sound are a block; fewer could be anybody's.
const A_BLOCK: usize = 2;
/// Pairs of leftovers that runs are looked for in; beyond, nothing more is called moved.
const MOST: usize = 4_000_000;

impl<'a> Loose<'a> {
    pub fn new(left: &'a [u64], right: &'a [u64]) -> Loose<'a> {
        let (left_state, right_state) = (vec![State::Loose; left.len()], vec![State::Loose; right.len()]);
        Loose { left, right, left_state, right_state, moved: Vec::new() }
    }

    fn set(&mut self, (left, right): (usize, usize), to: State) {
        if let Some((one, other)) = self.left_state.get_mut(left).zip(self.right_state.get_mut(right)) {
            (*one, *other) = (to, to);
        }
        if to == State::Moved {
            self.moved.push((left, right));
        }
    }

    pub fn hold(&mut self, pair: (usize, usize)) {
        self.set(pair, State::Held);
    }

    fn is_loose(&self, left: usize, right: usize) -> bool {
        let loose = Some(&State::Loose);
        self.left_state.get(left) == loose && self.right_state.get(right) == loose
    }

    fn same(&self, left: usize, right: usize) -> bool {
        self.left.get(left).is_some_and(|own| Some(own) == self.right.get(right))
    }

    /// Takes pairs that stand once in either draft and cross the anchors as moved, with the equal bars beside them.
    pub fn find_moved(&mut self, crossing: &[(usize, usize)]) {
        let pairs: Vec<(usize, usize)> = crossing.iter().copied().filter(|(l, r)| self.same(*l, *r)).collect();
        for pair in pairs {
            if self.is_loose(pair.0, pair.1) {
                self.set(pair, State::Moved);
            }
        }
        self.widen(&mut |_, _| false);
    }

    /// Everything that has a partner at its place is held.
    pub fn settle(&mut self, steps: &[Step]) {
        for step in steps {
            if let Step::Both(left, right) = step {
                self.hold((*left, *right));
            }
        }
    }

    /// Takes runs of equal bars that are left over on both sides as moved, the longest first.
    pub fn find_runs(&mut self, sounds: impl Fn(usize) -> bool) {
        let over = |state: &[State]| -> Vec<usize> {
            state.iter().enumerate().filter(|(_, own)| **own == State::Loose).map(|(at, _)| at).collect()
        };
        let (lefts, rights) = (over(&self.left_state), over(&self.right_state));
        if lefts.len().saturating_mul(rights.len()) > MOST {
            return;
        }
        let mut by_key: BTreeMap<u64, Vec<usize>> = BTreeMap::new();
        for left in lefts {
            by_key.entry(self.left.get(left).copied().unwrap_or_default()).or_default().push(left);
        }
        let mut runs: Vec<(usize, usize, usize, usize)> = Vec::new();
        for right in rights {
            let key = self.right.get(right).copied().unwrap_or_default();
            for left in by_key.get(&key).into_iter().flatten() {
                let goes_on = |by: &usize| self.is_loose(left + by, right + by) && self.same(left + by, right + by);
                let begins = left.checked_sub(1).zip(right.checked_sub(1));
                if begins.is_some_and(|(l, r)| self.is_loose(l, r) && self.same(l, r)) {
                    continue;
                }
                let length = (0..).take_while(goes_on).count();
                let sounding = (*left..left + length).filter(|bar| sounds(*bar)).count();
                runs.push((sounding, length, *left, right));
            }
        }
        runs.sort_unstable_by_key(|(sounding, length, left, right)| {
            (std::cmp::Reverse((*sounding, *length)), *left, *right)
        });
        for (_, length, left, right) in runs {
            // Longer ones may have taken a piece of it.
            let free: Vec<usize> = (0..length).filter(|by| self.is_loose(left + by, right + by)).collect();
            if free.iter().filter(|by| sounds(left + **by)).count() >= A_BLOCK {
                free.into_iter().for_each(|by| self.set((left + by, right + by), State::Moved));
            }
        }
    }

    /// Lets moved blocks grow over loose bars beside them that are equal, or alike enough, and whose place is free.
    pub fn widen(&mut self, alike: &mut dyn FnMut(usize, usize) -> bool) {
        let mut at = 0;
        while let Some(&(left, right)) = self.moved.get(at) {
            let before = left.checked_sub(1).zip(right.checked_sub(1));
            for (l, r) in before.into_iter().chain([(left + 1, right + 1)]) {
                if self.is_loose(l, r) && (self.same(l, r) || alike(l, r)) {
                    self.set((l, r), State::Moved);
                }
            }
            at += 1;
        }
    }

    pub fn in_order_left(&self, range: Range<usize>) -> Sorted {
        sorted(&self.left_state, range)
    }

    pub fn in_order_right(&self, range: Range<usize>) -> Sorted {
        sorted(&self.right_state, range)
    }

    /// By their place in the second draft.
    pub fn into_moved(self) -> Vec<(usize, usize)> {
        let mut moved = self.moved;
        moved.sort_unstable_by_key(|(left, right)| (*right, *left));
        moved
    }
}

fn sorted(state: &[State], range: Range<usize>) -> Sorted {
    let (moved, stay) = range.partition(|at| state.get(*at) == Some(&State::Moved));
    Sorted { stay, moved }
}

/// Which of some pairs, in order of their first places, belong to the longest run that is in order of the second ones, too.
#[must_use]
pub fn longest_in_order(pairs: &[(usize, usize)]) -> Vec<bool> {
    // The end of the best run of each length, and for each pair the one before it.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = Vec::with_capacity(pairs.len());
    let second = |at: usize| pairs.get(at).map_or(0, |pair| pair.1);
    for (at, pair) in pairs.iter().enumerate() {
        let length = ends.partition_point(|end| second(*end) < pair.1);
        before.push(length.checked_sub(1).and_then(|length| ends.get(length)).copied());
        match ends.get_mut(length) {
            Some(end) => *end = at,
            None => ends.push(at),
        }
    }
    let mut kept = vec![false; pairs.len()];
    let mut at = ends.last().copied();
    while let Some(own) = at {
        if let Some(slot) = kept.get_mut(own) {
            *slot = true;
        }
        at = before.get(own).copied().flatten();
    }
    kept
}
