//! Two drafts of one piece: bars that stand in both, bars that were put in or taken out, blocks that were moved.
//!
//! What stands only once in either draft holds the two together (the anchors of a patience diff); between, the pairs that
//! are worth most. Anchors that would have to cross are blocks that were moved.

use std::collections::BTreeMap;
use std::ops::Range;

use similar::{Algorithm, DiffOp, capture_diff_slices};

use super::moved::{self, Loose};
use super::{Step, gap};

/// What is compared; bars with one key are the same in everything.
pub trait Likeness {
    /// From 0 (nothing in common) to 1 (the same).
    fn likeness(&mut self, left: usize, right: usize) -> f64;

    /// Whether anything sounds in a bar of the first draft; silences could stand anywhere.
    fn sounds(&self, left: usize) -> bool;
}

/// How two drafts belong together.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Drafts {
    /// Every place of both appears once, in order; moved ones as only left and only right.
    pub steps: Vec<Step>,
    /// Pairs that stand in another order, by their place in the second draft.
    pub moved: Vec<(usize, usize)>,
}

/// A pair that has less in common is one bar taken out and another put in.
const APART: f64 = 0.25;
/// What a pair of silences is worth against one that sounds.
const SILENCE: f64 = 0.3;
/// As many bars out as in at one place are the same bars, rewritten.
const REWRITTEN: f64 = 0.3;
/// Runs of so many bars are looked at as one, so that music written out twice finds its place by what stands around it.
const RUNS: [usize; 3] = [1, 4, 12];
/// Larger gaps are first divided by their longest common run.
const LARGE: usize = 1_000_000;
/// Equal bars in a row that hold the parts of a large gap apart.
const HOLDS: usize = 4;

/// Aligns two drafts. Linear in time and memory but for the gaps between anchors.
#[must_use]
pub fn drafts(left: &[u64], right: &[u64], alike: &mut dyn Likeness) -> Drafts {
    let mut loose = Loose::new(left, right);
    let anchors = anchors(left, right, alike, &mut loose);
    let mut steps = Vec::with_capacity(left.len().max(right.len()));
    let (mut l, mut r) = (0, 0);
    for (at_left, at_right) in anchors.into_iter().chain([(left.len(), right.len())]) {
        between(&loose, l..at_left, r..at_right, alike, &mut steps);
        if at_left < left.len() {
            steps.push(Step::Both(at_left, at_right));
        }
        (l, r) = (at_left + 1, at_right + 1);
    }
    loose.settle(&steps);
    loose.find_runs(|left| alike.sounds(left));
    loose.widen(&mut |left, right| alike.likeness(left, right) > APART);
    Drafts { steps, moved: loose.into_moved() }
}

/// Pairs that hold the drafts together, in order; what would have to cross them is told to `loose` as moved.
fn anchors(left: &[u64], right: &[u64], alike: &dyn Likeness, loose: &mut Loose<'_>) -> Vec<(usize, usize)> {
    let begin = left.iter().zip(right).take_while(|(one, other)| one == other).count();
    let rest = left.len().min(right.len()) - begin;
    let end = left.iter().rev().zip(right.iter().rev()).take(rest).take_while(|(one, other)| one == other).count();
    let (left_end, right_end) = (left.len() - end, right.len() - end);
    let mut pairs: Vec<(usize, usize)> = Vec::new();
    for run in RUNS {
        let one = once(left.get(begin..left_end).unwrap_or_default(), run);
        let other = once(right.get(begin..right_end).unwrap_or_default(), run);
        let both = one.iter().filter_map(|(key, l)| Some((begin + l, begin + other.get(key)?)));
        pairs.extend(both.filter(|(l, _)| (*l..l + run).any(|bar| alike.sounds(bar))));
    }
    pairs.sort_unstable();
    pairs.dedup();
    let chain = moved::longest_in_order(&pairs);
    let mut kept = pairs.iter().zip(&chain);
    let mut anchors: Vec<(usize, usize)> = (0..begin).map(|at| (at, at)).collect();
    anchors.extend(kept.clone().filter(|(_, kept)| **kept).map(|(pair, _)| *pair));
    anchors.extend((0..end).map(|at| (left_end + at, right_end + at)));
    anchors.iter().for_each(|pair| loose.hold(*pair));
    let crossing: Vec<(usize, usize)> = kept.by_ref().filter(|(_, kept)| !**kept).map(|(pair, _)| *pair).collect();
    loose.find_moved(&crossing);
    anchors
}

/// Runs of bars that stand only once, by what is in them, with their first bar.
fn once(keys: &[u64], run: usize) -> BTreeMap<&[u64], usize> {
    let mut found: BTreeMap<&[u64], Option<usize>> = BTreeMap::new();
    for (at, window) in keys.windows(run).enumerate() {
        found.entry(window).and_modify(|place| *place = None).or_insert(Some(at));
    }
    found.into_iter().filter_map(|(key, place)| Some((key, place?))).collect()
}

/// What lies between two anchors, moved blocks left aside.
fn between(
    loose: &Loose<'_>,
    left: Range<usize>,
    right: Range<usize>,
    alike: &mut dyn Likeness,
    steps: &mut Vec<Step>,
) {
    if left.is_empty() && right.is_empty() {
        return;
    }
    let (one, other) = (loose.in_order_left(left), loose.in_order_right(right));
    let (lefts, rights): (Vec<usize>, Vec<usize>) = (one.stay, other.stay);
    let mut told = Vec::with_capacity(lefts.len().max(rights.len()));
    if lefts.len().saturating_mul(rights.len()) > LARGE {
        divided(loose, &lefts, &rights, alike, &mut told);
    } else {
        pair_up(loose, &lefts, &rights, alike, &mut told);
    }
    // Moved bars go back in where they stood.
    let (mut gone, mut come) = (one.moved.into_iter().peekable(), other.moved.into_iter().peekable());
    for step in told {
        let (l, r) = match step {
            Step::Both(l, r) => (Some(l), Some(r)),
            Step::Left(l) => (Some(l), None),
            Step::Right(r) => (None, Some(r)),
        };
        steps.extend(std::iter::from_fn(|| gone.next_if(|own| l.is_some_and(|l| *own < l))).map(Step::Left));
        steps.extend(std::iter::from_fn(|| come.next_if(|own| r.is_some_and(|r| *own < r))).map(Step::Right));
        steps.push(step);
    }
    steps.extend(gone.map(Step::Left));
    steps.extend(come.map(Step::Right));
}

/// Long runs of equal bars first, then what lies between them.
fn divided(loose: &Loose<'_>, left: &[usize], right: &[usize], alike: &mut dyn Likeness, told: &mut Vec<Step>) {
    let keys =
        |own: &[usize], keys: &[u64]| -> Vec<u64> { own.iter().filter_map(|at| keys.get(*at).copied()).collect() };
    let ops = capture_diff_slices(Algorithm::Myers, &keys(left, loose.left), &keys(right, loose.right));
    let (mut l, mut r) = (0, 0);
    let part = |own: &[usize], from: usize, to: usize| own.get(from..to).unwrap_or_default().to_vec();
    for op in ops {
        let DiffOp::Equal { old_index, new_index, len } = op else { continue };
        if len < HOLDS {
            continue;
        }
        pair_up(loose, &part(left, l, old_index), &part(right, r, new_index), alike, told);
        let (one, other) = (part(left, old_index, old_index + len), part(right, new_index, new_index + len));
        told.extend(one.into_iter().zip(other).map(|(l, r)| Step::Both(l, r)));
        (l, r) = (old_index + len, new_index + len);
    }
    pair_up(loose, &part(left, l, left.len()), &part(right, r, right.len()), alike, told);
}

fn pair_up(loose: &Loose<'_>, left: &[usize], right: &[usize], alike: &mut dyn Likeness, told: &mut Vec<Step>) {
    let rewritten = left.len() == right.len();
    let mut worth = |row: usize, column: usize| {
        let (Some(l), Some(r)) = (left.get(row), right.get(column)) else { return -1.0 };
        let same = loose.left.get(*l) == loose.right.get(*r);
        let likeness = if same { 1.0 } else { alike.likeness(*l, *r) };
        let here = if rewritten && row == column { REWRITTEN } else { 0.0 };
        let weight = if alike.sounds(*l) { 1.0 } else { SILENCE };
        (likeness - APART + here) * weight
    };
    let mut steps = Vec::new();
    gap::fill(0..left.len(), 0..right.len(), &mut worth, 0.0, &mut steps);
    let own = |at: usize| left.get(at).copied().unwrap_or_default();
    let theirs = |at: usize| right.get(at).copied().unwrap_or_default();
    told.extend(steps.into_iter().map(|step| match step {
        Step::Both(l, r) => Step::Both(own(l), theirs(r)),
        Step::Left(l) => Step::Left(own(l)),
        Step::Right(r) => Step::Right(theirs(r)),
    }));
}

#[cfg(test)]
mod tests;
