//! Places systems on the music: the cheapest way from the first bar to the last, by an exact dynamic programme.

use super::cost;
use super::music::Expected;
use crate::place::BarSpan;

/// What was counted in one system.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Counted {
    /// The number printed at it.
    pub label: Option<String>,
    /// Heads, and bars that it stands for, of each printed bar.
    pub bars: Vec<(u32, u32)>,
}

impl Counted {
    /// Bars of music, multi-bar rests and all.
    pub fn total(&self) -> usize {
        self.bars.iter().map(|(_, holds)| *holds as usize).sum()
    }
}

/// The bars of a system; `None` where it fits nowhere.
pub(super) type Placed = Option<BarSpan>;

/// Music that is not on the pages: for the leap, and for each bar of it, up to a limit.
const LEAP: (f64, f64, f64) = (4.0, 0.02, 3.0);
/// A system that is none of this music: for itself and for each of its bars.
const ALIEN: (f64, f64) = (3.0, 0.5);
/// So many bars more or less than counted are tried.
const OFF: usize = 3;
/// Beyond so many pairs of systems and bars nothing is placed: 130 MB of steps, and no work is so long (the longest open
/// movement has 943 bars, and a part of it some 100 systems).
const MOST: usize = 4_000_000;

#[derive(Clone, Copy)]
struct Step {
    cost: f64,
    /// Where the system begins; `None`: it is left out.
    first: Option<usize>,
    /// Where the music stood before.
    from: usize,
}

/// One entry a system.
pub(super) fn place(systems: &[Counted], expected: &Expected) -> Vec<Placed> {
    let bars = expected.bars.len();
    if systems.len().saturating_mul(bars + 1) > MOST {
        return vec![None; systems.len()];
    }
    let start = |at: usize| if at == 0 { 0.0 } else { f64::INFINITY };
    let mut costs: Vec<f64> = (0..=bars).map(start).collect();
    let mut steps: Vec<Vec<Step>> = Vec::with_capacity(systems.len());
    for system in systems {
        let own = step(system, &costs, expected);
        costs = own.iter().map(|step| step.cost).collect();
        steps.push(own);
    }
    let cheapest =
        costs.iter().enumerate().min_by(|a, b| (a.1 + leap(bars - a.0)).total_cmp(&(b.1 + leap(bars - b.0))));
    let mut at = cheapest.map_or(0, |(at, _)| at);
    let mut placed = vec![None; systems.len()];
    for (slot, own) in placed.iter_mut().zip(&steps).rev() {
        let Some(step) = own.get(at) else { break };
        *slot = step.first.and_then(|first| super::span(first, at));
        at = step.from;
    }
    placed
}

fn leap(bars: usize) -> f64 {
    if bars == 0 { 0.0 } else { LEAP.0 + (LEAP.1 * bars as f64).min(LEAP.2) }
}

/// The cheapest way to stand at each bar after this system.
fn step(system: &Counted, costs: &[f64], expected: &Expected) -> Vec<Step> {
    let alien = ALIEN.0 + ALIEN.1 * system.bars.len() as f64;
    let mut after: Vec<Step> =
        costs.iter().enumerate().map(|(at, cost)| Step { cost: cost + alien, first: None, from: at }).collect();
    let begins = begins(costs);
    let total = system.total();
    for (first, (cost, from)) in begins.iter().enumerate() {
        let cost = cost + cost::number(system.label.as_deref(), first, expected);
        if !cost.is_finite() {
            continue;
        }
        let exact = exact(system, first, expected).min(cost::WORST * total as f64 * 0.5);
        for count in total.saturating_sub(OFF).max(1)..=total + OFF {
            let Some(slot) = after.get_mut(first + count) else { break };
            let off = total.abs_diff(count) as f64;
            // Which bar is too many is not looked for here: what is told is how many.
            let bars = if off > 0.0 { off * cost::UNEVEN + 0.7 * exact } else { exact };
            let own = cost + bars;
            if own < slot.cost {
                *slot = Step { cost: own, first: Some(first), from: *from };
            }
        }
    }
    after
}

fn exact(system: &Counted, first: usize, expected: &Expected) -> f64 {
    let mut at = first;
    let mut cost = 0.0;
    for (heads, holds) in &system.bars {
        cost += cost::bar(*heads, *holds, at, expected);
        at += *holds as usize;
    }
    cost
}

/// The cheapest way to begin a system at each bar, and from where: at once, or after a leap.
fn begins(costs: &[f64]) -> Vec<(f64, usize)> {
    let mut begins = Vec::with_capacity(costs.len());
    // The cheapest by the bar, and the cheapest at all.
    let (mut sloping, mut flat): (Option<usize>, Option<usize>) = (None, None);
    for (at, cost) in costs.iter().enumerate() {
        let mut best = (*cost, at);
        for from in [sloping, flat].into_iter().flatten() {
            let own = costs.get(from).map_or(f64::INFINITY, |cost| cost + leap(at - from));
            if own < best.0 {
                best = (own, from);
            }
        }
        begins.push(best);
        let slope = |from: usize| costs.get(from).map_or(f64::INFINITY, |cost| cost - LEAP.1 * from as f64);
        if sloping.is_none_or(|from| slope(at) < slope(from)) {
            sloping = Some(at);
        }
        if flat.is_none_or(|from| costs.get(from).is_none_or(|least| cost < least)) {
            flat = Some(at);
        }
    }
    begins
}
