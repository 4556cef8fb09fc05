//! Filling up: as many bars to a line, and as many lines to a page, as go there.

use super::search::{End, PagePlan, Plan, Problem, Trial};
use super::sheet::{self, Phase};
use super::{Binding, Stand};
use crate::layout::Side;

/// On the right-hand page unless the music has to start on the left-hand one.
pub(super) fn start(stand: &Stand) -> Phase {
    let starts = sheet::starts(stand);
    let right = Phase::from(stand.binding == Binding::Booklet && stand.starts != Some(Side::Verso));
    starts.iter().copied().find(|phase| *phase == right).or(starts.first().copied()).unwrap_or(0)
}

/// `None` where there is nothing to fill pages with.
pub(super) fn fill(problem: &Problem, start: Phase) -> Option<Plan> {
    let mut pages: Vec<PagePlan> = Vec::new();
    let (mut place, mut used, mut phase, mut sum) = (0, 0, start, problem.start(start));
    while place < problem.end() {
        let (line, trial) = longest(problem, place)?;
        let fits = pages.last().is_some() && used + trial.height <= problem.room;
        match pages.last_mut().filter(|_| fits) {
            Some(page) => {
                page.lines.push(line);
                used += trial.height;
                sum += trial.cost;
            }
            None => {
                if let Some(page) = pages.last_mut() {
                    let (end, own, next) = problem.endings(place, phase).next()?;
                    page.end = end;
                    sum += own;
                    phase = next;
                }
                let (own, taken) = problem.opening(trial);
                sum += own;
                used = taken;
                pages.push(PagePlan { phase, lines: vec![line], end: End::Last });
            }
        }
        place = trial.end;
    }
    (!pages.is_empty()).then_some(Plan { pages, cost: sum })
}

/// The longest line that is not tight and divides no multi-bar rest; where all are tight the shortest.
fn longest(problem: &Problem, place: usize) -> Option<(usize, &Trial)> {
    let whole = || {
        let inside = |trial: &Trial| problem.places.get(trial.end).is_some_and(|place| place.inside);
        problem.trials_from(place).filter(move |(_, trial)| !inside(trial))
    };
    whole().filter(|(_, trial)| trial.tension >= 0.0).last().or_else(|| whole().next())
}
