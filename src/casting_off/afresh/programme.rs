//! The same choice as a linear programme, for a general solver that knows nothing of music.
//!
//! One variable is a page, another a turn from a system at a foot to one at a head. Each head is turned to as often as
//! pages begin with it, each foot turned from as often as pages end with it, and one page begins the music: a flow,
//! whose cheapest solution takes each page wholly or not at all.

use microlp::{ComparisonOp, LinearExpr, OptimizationDirection, Problem as Programme, Variable};

use super::search::{Candidate, Problem};

/// By candidate: pages, and turns, with it at their head, and at their foot.
struct Ends {
    heads: Vec<Vec<Variable>>,
    feet: Vec<Vec<Variable>>,
}

impl Ends {
    fn new(problem: &Problem) -> Ends {
        let none = vec![Vec::new(); problem.candidates.len()];
        Ends { heads: none.clone(), feet: none }
    }

    fn add(&mut self, head: usize, foot: usize, variable: Variable) {
        self.heads[head].push(variable);
        self.feet[foot].push(variable);
    }
}

/// The least cost of all solutions; `None` where there is none.
pub(super) fn least_cost(problem: &Problem) -> Option<f64> {
    let mut programme = Programme::new(OptimizationDirection::Minimize);
    let mut pages = Ends::new(problem);
    for head in 0..problem.candidates.len() {
        add_pages(problem, &mut vec![head], &mut programme, &mut pages);
    }
    let mut turns = Ends::new(problem);
    for (foot, above) in problem.candidates.iter().enumerate() {
        let heads = problem.candidates.iter().enumerate().filter(|(_, below)| below.first == above.end);
        for (head, below) in heads {
            turns.add(head, foot, programme.add_var(problem.neighbours(above, below), (0.0, 1.0)));
        }
    }
    let begins: Vec<Variable> = (0..problem.candidates.len())
        .filter(|at| problem.candidates[*at].first == 0)
        .flat_map(|at| pages.heads[at].clone())
        .collect();
    programme.add_constraint(balance(&begins, &[]), ComparisonOp::Eq, 1.0);
    for (at, own) in problem.candidates.iter().enumerate() {
        if own.first > 0 {
            programme.add_constraint(balance(&pages.heads[at], &turns.heads[at]), ComparisonOp::Eq, 0.0);
        }
        if own.end < problem.breaks {
            programme.add_constraint(balance(&pages.feet[at], &turns.feet[at]), ComparisonOp::Eq, 0.0);
        }
    }
    Some(programme.solve().ok()?.objective())
}

fn balance(one: &[Variable], other: &[Variable]) -> LinearExpr {
    let mut sum = LinearExpr::empty();
    one.iter().for_each(|variable| sum.add(*variable, 1.0));
    other.iter().for_each(|variable| sum.add(*variable, -1.0));
    sum
}

/// Every page that begins with these systems.
fn add_pages(problem: &Problem, systems: &mut Vec<usize>, programme: &mut Programme, pages: &mut Ends) {
    let (Some(head), Some(foot)) = (systems.first().copied(), systems.last().copied()) else { return };
    let chosen: Vec<&Candidate> = systems.iter().map(|at| &problem.candidates[*at]).collect();
    let end = problem.candidates[foot].end;
    let Some(cost) = problem.page_cost(&chosen, end == problem.breaks) else { return };
    let inside: f64 = chosen.windows(2).map(|pair| problem.neighbours(pair[0], pair[1])).sum();
    pages.add(head, foot, programme.add_var(cost + inside, (0.0, 1.0)));
    if problem.is_forced_page(end) {
        return;
    }
    for at in (0..problem.candidates.len()).filter(|at| problem.candidates[*at].first == end) {
        systems.push(at);
        add_pages(problem, systems, programme, pages);
        systems.pop();
    }
}
