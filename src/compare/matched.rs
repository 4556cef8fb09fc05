//! From a bar of one draft to the same bar of the other.

use std::collections::BTreeSet;

use super::{Music, Status};
use crate::place::BarIdx;

/// Which bar is which in the other draft.
#[derive(Clone, Debug, Default)]
pub struct Matched {
    new_of: Vec<Option<BarIdx>>,
    old_of: Vec<Option<BarIdx>>,
    /// Bars of the old draft that stand elsewhere in the new one.
    moved: BTreeSet<BarIdx>,
}

impl Matched {
    #[must_use]
    pub fn of(music: &Music) -> Matched {
        let mut matched = Matched::default();
        for pair in &music.bars {
            matched.moved.extend(pair.old.filter(|_| pair.status == Status::Moved));
            for (own, other, side) in
                [(pair.old, pair.new, &mut matched.new_of), (pair.new, pair.old, &mut matched.old_of)]
            {
                let Some(own) = own else { continue };
                if side.len() <= own.at() {
                    side.resize(own.at() + 1, None);
                }
                if let Some(slot) = side.get_mut(own.at()) {
                    *slot = other;
                }
            }
        }
        matched
    }

    #[must_use]
    pub fn to_new(&self, old: BarIdx) -> Option<BarIdx> {
        self.new_of.get(old.at()).copied().flatten()
    }

    /// The same, of a bar that kept its place.
    #[must_use]
    pub fn stays(&self, old: BarIdx) -> Option<BarIdx> {
        self.to_new(old).filter(|_| !self.moved.contains(&old))
    }

    #[must_use]
    pub fn to_old(&self, new: BarIdx) -> Option<BarIdx> {
        self.old_of.get(new.at()).copied().flatten()
    }
}
