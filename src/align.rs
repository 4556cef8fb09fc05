//! Which of two runs of bars belong together, where some were taken out, put in or changed.

use similar::{Algorithm, DiffOp, capture_diff_slices};

mod drafts;
mod gap;
mod moved;

#[cfg(test)]
mod tests;

pub use drafts::{Drafts, Likeness, drafts};
pub use moved::longest_in_order;

/// One step through both runs; places count from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// They belong together, equal or not.
    Both(usize, usize),
    /// Only in the first run.
    Left(usize),
    /// Only in the second run.
    Right(usize),
}

/// What is compared: keys are equal where bars are, and where they are not, likeness tells how near they come.
pub trait Alike {
    /// From 0 (nothing in common) to 1 (as good as equal).
    fn likeness(&self, left: usize, right: usize) -> f64;

    /// How much a bar of the first run weighs as a landmark: a silence that could stand anywhere weighs little.
    fn weight(&self, left: usize) -> f64;
}

/// Equal bars that weigh less together do not hold two changed passages apart.
const HOLDS: f64 = 2.0;

/// A pair that has nothing in common still outweighs two bars without partners, and a pair that is somewhat alike is not
/// given up for two others unless they are more alike by this.
const A_PAIR: f64 = 0.6;

/// Aligns two runs: the longest common run of equal bars as far as it is weighty, and between, the pairs that are most
/// alike. Every place of both runs appears once, in order.
#[must_use]
pub fn align<K: Ord + std::hash::Hash>(left: &[K], right: &[K], alike: &dyn Alike) -> Vec<Step> {
    let mut steps = Vec::with_capacity(left.len().max(right.len()));
    let mut worth = |left: usize, right: usize| alike.likeness(left, right);
    // A changed passage that is not yet closed: up to which places both runs are done.
    let (mut l, mut r) = (0, 0);
    let ops = capture_diff_slices(Algorithm::Myers, left, right);
    let last = ops.len().saturating_sub(1);
    for (at, op) in ops.iter().enumerate() {
        let DiffOp::Equal { old_index, new_index, len } = *op else { continue };
        let weight: f64 = (old_index..old_index + len).map(|at| alike.weight(at)).sum();
        if weight < HOLDS && at != 0 && at != last {
            continue;
        }
        gap::fill(l..old_index, r..new_index, &mut worth, A_PAIR, &mut steps);
        steps.extend((0..len).map(|at| Step::Both(old_index + at, new_index + at)));
        (l, r) = (old_index + len, new_index + len);
    }
    gap::fill(l..left.len(), r..right.len(), &mut worth, A_PAIR, &mut steps);
    steps
}

/// How many bars of either run have no partner.
#[must_use]
pub fn unmatched(steps: &[Step]) -> usize {
    steps.iter().filter(|step| !matches!(step, Step::Both(..))).count()
}
