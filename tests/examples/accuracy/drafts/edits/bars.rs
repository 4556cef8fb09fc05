//! Bars put in, taken out, moved: the same bars of all parts.

use super::super::seed::Seed;
use super::super::truth::{NewBar, Truth};
use super::seams::Seams;

/// The most bars of one edit.
const MOST: usize = 30;

/// One place gets bars from elsewhere in the file; in half of the seeds at other pitches.
pub fn put_in(seams: &Seams, truth: &mut Truth, seed: &mut Seed) -> bool {
    let clean: Vec<usize> = (0..=seams.bars()).filter(|seam| seams.is_clean(*seam)).collect();
    let Some((from, to)) = block(&clean, usize::MAX, seed) else { return false };
    let shift = if seed.coin() { [-3, -2, 2, 3][seed.below(4)] } else { 0 };
    let new = (from..to).map(|source| NewBar { is: None, source, shift, moved: false });
    let places = places(seams, truth);
    let at = places[seed.below(places.len())];
    truth.bars.splice(at..at, new);
    true
}

pub fn take_out(seams: &Seams, truth: &mut Truth, seed: &mut Seed) -> bool {
    let places = places(seams, truth);
    let Some((from, to)) = block(&places, truth.bars.len() / 3, seed) else { return false };
    truth.bars.drain(from..to);
    true
}

pub fn move_block(seams: &Seams, truth: &mut Truth, seed: &mut Seed) -> bool {
    let places = places(seams, truth);
    let Some((from, to)) = block(&places, truth.bars.len() / 3, seed) else { return false };
    let elsewhere: Vec<usize> = places.into_iter().filter(|at| *at < from || *at > to).collect();
    if elsewhere.is_empty() {
        return false;
    }
    let at = elsewhere[seed.below(elsewhere.len())];
    let bars: Vec<NewBar> = truth.bars.drain(from..to).map(|bar| NewBar { moved: bar.is.is_some(), ..bar }).collect();
    let at = if at > from { at - bars.len() } else { at };
    truth.bars.splice(at..at, bars);
    true
}

/// Places of the copy at which it can be cut; where it has been cut before, it can be again.
fn places(seams: &Seams, truth: &Truth) -> Vec<usize> {
    let end = truth.bars.len();
    (0..=end).filter(|at| *at == end || truth.is_seam(*at) || seams.is_clean(truth.bars[*at].source)).collect()
}

/// One to thirty bars between two places, at most so many.
fn block(places: &[usize], most: usize, seed: &mut Seed) -> Option<(usize, usize)> {
    for _ in 0..300 {
        let from = *places.get(seed.below(places.len()))?;
        let ends: Vec<usize> = places.iter().copied().filter(|to| *to > from && *to - from <= MOST.min(most)).collect();
        if !ends.is_empty() {
            return Some((from, ends[seed.below(ends.len())]));
        }
    }
    None
}
