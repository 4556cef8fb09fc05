//! Every way to divide music into systems and pages, tried one by one: the search must find none that is cheaper.

use super::cost;
use super::gaps::between;
use super::search::{Candidate, Problem, Step};
use crate::units::Spaces;

impl Problem {
    /// The cost of given systems on given pages; `None` where they do not hold the music once and in order, or where
    /// a page is too full. The search must come to the same figure.
    pub fn cost_of(&self, steps: &[Step]) -> Option<f64> {
        let chosen: Option<Vec<(&Candidate, bool)>> =
            steps.iter().map(|step| Some((self.candidates.get(step.candidate)?, step.begins_page))).collect();
        let chosen = chosen?;
        let ends = chosen.last()?.0.end == self.breaks;
        let joined = chosen.windows(2).all(|pair| matches!(pair, [(one, _), (next, _)] if one.end == next.first));
        let turned = chosen.iter().all(|(own, begins)| *begins || !self.is_forced_page(own.first));
        if !ends || !joined || !turned || chosen.first()?.0.first != 0 {
            return None;
        }
        let mut cost = 0.0;
        let mut pages = chosen.chunk_by(|_, (_, begins)| !*begins).peekable();
        while let Some(page) = pages.next() {
            let systems: Vec<&Candidate> = page.iter().map(|(own, _)| *own).collect();
            cost += self.page_cost(&systems, pages.peek().is_none())?;
        }
        let pairs = chosen.windows(2).map(|pair| match pair {
            [(above, _), (below, _)] => self.neighbours(above, below),
            _ => 0.0,
        });
        Some(cost + pairs.sum::<f64>())
    }

    /// The cost of these systems on one page, what they cost as neighbours apart; `None` where several overfill it.
    pub fn page_cost(&self, systems: &[&Candidate], is_last: bool) -> Option<f64> {
        let first = systems.first()?;
        let used = self.used(systems)?;
        let mut cost = cost::page(used, self.room) + first.page_bonus;
        if let [only] = systems {
            let least = only.top + only.heights.least + only.heights.below;
            cost += if least > self.room { 1000.0 * (least / self.room) } else { 0.0 };
        }
        cost += cost::SPLIT * (systems.len() - 1) as f64 + systems.iter().map(|own| own.cost).sum::<f64>();
        Some(if is_last { cost + cost::last_page(used, self.room) } else { cost })
    }

    /// Height that a page's systems take; `None` where several overfill it.
    fn used(&self, systems: &[&Candidate]) -> Option<Spaces> {
        let first = systems.first()?;
        let mut used = first.top + first.heights.lines;
        for pair in systems.windows(2) {
            let [above, below] = pair else { continue };
            used = used + between(&self.house, &above.heights, &below.heights) + below.heights.lines;
            if used + below.heights.below > self.room {
                return None;
            }
        }
        Some(used + systems.last()?.heights.below)
    }
}

/// The least cost of all solutions; `None` where there is none. Takes time exponential in the music.
pub(super) fn least_cost(problem: &Problem) -> Option<f64> {
    let mut least = None;
    extend(problem, 0, &mut Vec::new(), &mut least);
    least
}

fn extend(problem: &Problem, place: usize, steps: &mut Vec<Step>, least: &mut Option<f64>) {
    if place == problem.breaks {
        let cost = problem.cost_of(steps);
        *least = match (*least, cost) {
            (Some(least), Some(cost)) => Some(least.min(cost)),
            (known, new) => known.or(new),
        };
        return;
    }
    let own = problem.candidates.iter().enumerate().filter(|(_, own)| own.first == place);
    for (candidate, own) in own {
        for begins_page in [true, false] {
            steps.push(Step { candidate, begins_page });
            extend(problem, own.end, steps, least);
            steps.pop();
        }
    }
}

/// Lines filled at natural width, pages filled with them: what is done without looking ahead.
pub(super) fn first_fit(problem: &Problem) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    let (mut place, mut used) = (0, Spaces::ZERO);
    let mut above: Option<&Candidate> = None;
    while place < problem.breaks {
        let own = || problem.candidates.iter().enumerate().filter(|(_, own)| own.first == place);
        let natural = own().filter(|(_, own)| own.tension >= 0.0).max_by_key(|(at, own)| (own.end, *at));
        let Some((candidate, own)) = natural.or_else(|| own().min_by_key(|(_, own)| own.end)) else { break };
        let below = above.map(|above| used + between(&problem.house, &above.heights, &own.heights) + own.heights.lines);
        let fits = below.filter(|below| *below + own.heights.below <= problem.room && !problem.is_forced_page(place));
        used = fits.unwrap_or(own.top + own.heights.lines);
        steps.push(Step { candidate, begins_page: fits.is_none() });
        (place, above) = (own.end, Some(own));
    }
    steps
}
