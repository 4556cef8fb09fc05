use proptest::prelude::*;

use super::gaps::Heights;
use super::search::{Candidate, Problem, best};
use super::staves::StaffSet;
use super::{brute, programme, *};

/// Made-up systems of one to four units with two sets of staves each, on pages of 40 spaces.
fn any_problem(most: usize) -> impl Strategy<Value = Problem> {
    let unit = (0.0..25.0f64, 0..6u32, prop::bool::weighted(0.1), 2..18u32, 2..55u32);
    prop::collection::vec(prop::collection::vec(unit, 4), 1..=most).prop_map(|units| {
        let breaks = units.len();
        let mut candidates = Vec::new();
        let mut forced_pages = vec![false; breaks + 1];
        for (first, trials) in units.iter().enumerate() {
            for (length, &(cost, nth, forced, lean, whole)) in (1..).zip(trials) {
                if first + length > breaks {
                    break;
                }
                forced_pages[first] |= forced && length == 1;
                for (set, lines) in [(nth as usize % 3, lean.min(whole)), (3, lean.max(whole))] {
                    let heights = Heights {
                        lines: Spaces(f64::from(lines)),
                        least: Spaces(f64::from(lines) * 0.8),
                        above: Spaces(f64::from(nth)),
                        below: Spaces(f64::from(nth % 2)),
                        widest: Spaces(f64::from(nth) * 2.0),
                        apart: Spaces(8.0),
                    };
                    candidates.push(Candidate {
                        first,
                        end: first + length,
                        bars: BarSpan::new(BarIdx(first as u32), BarIdx((first + length - 1) as u32)),
                        set,
                        tension: (f64::from(nth) - 3.0) / 10.0,
                        cost: cost + f64::from(set as u32),
                        page_bonus: -f64::from(nth % 3),
                        top: heights.above,
                        heights,
                    });
                }
            }
        }
        let sets = [vec![0, 1], vec![1, 2], vec![0, 2], vec![0, 1, 2, 3, 4]];
        let sets = sets.into_iter().map(|set| set.into_iter().collect::<StaffSet>()).collect();
        Problem { breaks, candidates, forced_pages, sets, room: Spaces(40.0), house: House::default() }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn no_way_at_all_is_cheaper_than_the_one_proposed(problem in any_problem(6)) {
        let found = best(&problem).and_then(|steps| problem.cost_of(&steps));
        let least = brute::least_cost(&problem);
        prop_assert!(found.is_some() == least.is_some());
        let (found, least) = (found.unwrap_or(0.0), least.unwrap_or(0.0));
        prop_assert!((found - least).abs() <= 1e-9 * least.abs().max(1.0), "{found} found, {least} possible");
    }

    #[test]
    fn filling_lines_and_pages_up_is_never_cheaper(problem in any_problem(40)) {
        let filled = problem.cost_of(&brute::first_fit(&problem));
        let found = best(&problem).and_then(|steps| problem.cost_of(&steps));
        prop_assert!(found.is_some());
        prop_assert!(filled.is_none_or(|filled| found.unwrap_or(f64::INFINITY) <= filled + 1e-9));
    }

    #[test]
    fn the_same_music_gives_the_same_pages(problem in any_problem(20)) {
        prop_assert_eq!(best(&problem), best(&problem.clone()));
    }

}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn a_general_solver_comes_to_the_same_cost(problem in any_problem(8)) {
        let found = best(&problem).and_then(|steps| problem.cost_of(&steps));
        let solved = programme::least_cost(&problem);
        prop_assert!(found.is_some() && solved.is_some(), "{found:?} found, {solved:?} solved");
        let (found, solved) = (found.unwrap_or(0.0), solved.unwrap_or(0.0));
        prop_assert!((found - solved).abs() <= 1e-6 * solved.abs().max(1.0), "{found} found, {solved} solved");
    }
}
