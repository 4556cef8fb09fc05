//! The slow way, for tests: every plan tried, each added up from scratch.

use super::search::{End, PagePlan, Plan, Problem};
use super::{cost, search};

impl Problem {
    /// What a plan costs; `None` where it does not hold the music once and in order, overfills a page or ends one where
    /// none may end. The search must come to the same figure.
    pub fn cost_of(&self, plan: &Plan) -> Option<f64> {
        let mut place = 0;
        let mut sum = 0.0;
        let mut phase = plan.pages.first()?.phase;
        if !self.starts.contains(&phase) {
            return None;
        }
        sum += self.start(phase);
        for page in &plan.pages {
            if page.phase != phase {
                return None;
            }
            sum += cost::PAGE;
            let mut used = if place == 0 { self.title } else { 0 };
            for (nth, line) in page.lines.iter().enumerate() {
                let trial = self.trials.get(*line).filter(|trial| trial.first == place)?;
                let begins_inside = self.places.get(place)?.inside && nth > 0;
                used += trial.height;
                let overfull = used > self.room;
                if begins_inside || (overfull && nth > 0) || (self.runs_over(trial)) {
                    return None;
                }
                sum += trial.cost + if overfull { cost::IMPOSSIBLE } else { 0.0 };
                sum += if nth == 0 && place > 0 && trial.end == self.end() { cost::RUNT_PAGE } else { 0.0 };
                place = trial.end;
                if self.turn_at == Some(place) && nth + 1 < page.lines.len() {
                    return None;
                }
            }
            if page.end == End::Last {
                return (place == self.end() && plan.pages.last() == Some(page)).then_some(sum);
            }
            let (_, own, next) = self.endings(place, phase).find(|(end, _, _)| *end == page.end)?;
            sum += own;
            phase = next;
        }
        None
    }
}

/// The least cost of all plans; `None` where there is none. Takes time exponential in the music.
pub(super) fn least_cost(problem: &Problem) -> Option<f64> {
    let mut least: Option<f64> = None;
    for phase in &problem.starts {
        let page = PagePlan { phase: *phase, lines: Vec::new(), end: End::Last };
        extend(problem, 0, &mut Plan { pages: vec![page], cost: 0.0 }, &mut least);
    }
    least
}

fn extend(problem: &Problem, place: usize, plan: &mut Plan, least: &mut Option<f64>) {
    if place == problem.end() {
        if let Some(cost) = problem.cost_of(plan) {
            *least = Some(least.map_or(cost, |least| least.min(cost)));
        }
        return;
    }
    let lines: Vec<(usize, search::Trial)> = problem.trials_from(place).map(|(at, trial)| (at, *trial)).collect();
    let Some(page) = plan.pages.last().cloned() else { return };
    for (at, trial) in lines {
        let mut longer = plan.clone();
        if let Some(page) = longer.pages.last_mut() {
            page.lines.push(at);
        }
        extend(problem, trial.end, &mut longer, least);
        if page.lines.is_empty() {
            continue;
        }
        for (end, _, next) in problem.endings(place, page.phase) {
            let mut turned = plan.clone();
            if let Some(page) = turned.pages.last_mut() {
                page.end = end;
            }
            turned.pages.push(PagePlan { phase: next, lines: vec![at], end: End::Last });
            extend(problem, trial.end, &mut turned, least);
        }
    }
}
