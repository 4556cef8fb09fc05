//! Which bars each printed bar of a placed system stands for.

use super::cost;
use super::music::Expected;
use super::place::Counted;
use crate::place::{BarIdx, BarSpan};

/// A printed bar for two composed ones, or one that stands for none of its own.
const ODD: f64 = 1.2;

/// One entry a printed bar, in order. Where as many are printed as composed, one each; else the cheapest way: a printed
/// bar may hold two, or be the second half of one (`None`).
pub(super) fn spans(system: &Counted, span: BarSpan, expected: &Expected) -> Vec<Option<BarSpan>> {
    let (first, count) = (span.first.at(), span.count() as usize);
    if system.total() == count {
        return each(system, first);
    }
    let printed = system.bars.len();
    // Costs by printed bars and composed bars so far, with the bars that the last printed one took.
    let mut best = vec![vec![(f64::INFINITY, 0_usize); count + 1]; printed + 1];
    if let Some(start) = best.first_mut().and_then(|row| row.first_mut()) {
        *start = (0.0, 0);
    }
    for (at, (heads, holds)) in system.bars.iter().enumerate() {
        for done in 0..=count {
            let Some((cost, _)) = best.get(at).and_then(|row| row.get(done)).copied() else { continue };
            let whole = (*holds).max(1) as usize;
            for takes in [0, whole, whole + 1, whole + 2] {
                let odd = ODD * takes.abs_diff(whole) as f64;
                let own = if takes == whole { cost::bar(*heads, *holds, first + done, expected) } else { odd };
                let Some(slot) = best.get_mut(at + 1).and_then(|row| row.get_mut(done + takes)) else { continue };
                if cost + own < slot.0 {
                    *slot = (cost + own, takes);
                }
            }
        }
    }
    let mut spans = vec![None; printed];
    let mut done = count;
    for (at, slot) in spans.iter_mut().enumerate().rev() {
        let Some((cost, takes)) = best.get(at + 1).and_then(|row| row.get(done)).copied() else { break };
        if !cost.is_finite() {
            return vec![None; printed];
        }
        done -= takes.min(done);
        *slot = super::span(first + done, first + done + takes);
    }
    spans
}

fn each(system: &Counted, first: usize) -> Vec<Option<BarSpan>> {
    let mut at = first;
    let spans = system.bars.iter().map(|(_, holds)| {
        let own = BarSpan::new(BarIdx(at as u32), BarIdx((at as u32 + holds).saturating_sub(1)));
        at += *holds as usize;
        Some(own)
    });
    spans.collect()
}
