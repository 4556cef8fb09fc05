//! The search against every plan tried, and against filling up.

use proptest::prelude::*;

use super::search::{Place, Problem, Trial};
use super::sheet::Remedies;
use super::{brute, fill, search};
use crate::players::turning::TurnClass;

/// One piece: how good a turn after it is, whether it goes on with a rest, and its lines to each of the next ends.
type Piece = (u8, bool, Vec<(f64, u32)>);

fn problem(pieces: &[Piece], room: u32, at_once: u8, starts: Vec<u8>, remedies: Remedies) -> Problem {
    let classes = [TurnClass::None, TurnClass::Tight, TurnClass::Enough, TurnClass::Easy];
    let price = [1100.0, 1045.0, 1003.0, 1000.0];
    let mut problem = Problem {
        places: vec![Place { inside: false, turn: price[3], class: Some(TurnClass::Easy) }],
        trials: Vec::new(),
        first_trials: Vec::new(),
        room,
        title: 2,
        at_once,
        starts,
        remedies,
        turn_at: None,
    };
    for (first, (class, inside, lines)) in pieces.iter().enumerate() {
        problem.first_trials.push(problem.trials.len());
        for (length, (tension, height)) in (1..).zip(lines) {
            let end = first + length;
            if end <= pieces.len() {
                let cost = super::cost::line(*tension);
                problem.trials.push(Trial { first, end, tension: *tension, cost, height: *height });
            }
        }
        let class = usize::from(*class % 4);
        let inside = *inside && first + 1 < pieces.len();
        problem.places.push(Place { inside, turn: price[class], class: Some(classes[class]) });
    }
    problem.first_trials.push(problem.trials.len());
    problem
}

fn any_piece() -> impl Strategy<Value = Piece> {
    let line = (-0.15_f64..0.6, 2_u32..6);
    (any::<u8>(), prop::bool::weighted(0.2), prop::collection::vec(line, 1..4))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn the_search_finds_what_trying_every_plan_finds(
        pieces in prop::collection::vec(any_piece(), 1..7),
        room in 6_u32..12,
        at_once in 1_u8..4,
        remedies in any::<bool>(),
    ) {
        let starts = if at_once == 2 { vec![1, 0] } else { vec![0] };
        let remedies = Remedies { blank: remedies && at_once == 2, fold_out: remedies && at_once == 2 };
        let problem = problem(&pieces, room, at_once, starts, remedies);
        let found = search::best(&problem);
        let least = brute::least_cost(&problem);
        prop_assert_eq!(found.is_some(), least.is_some());
        if let (Some(found), Some(least)) = (found, least) {
            prop_assert!((found.cost - least).abs() < 1e-6, "{} is not {}", found.cost, least);
            let own = problem.cost_of(&found);
            prop_assert!(own.is_some_and(|own| (own - found.cost).abs() < 1e-6), "the plan costs {:?}, not {}", own, found.cost);
        }
    }

    #[test]
    fn it_never_costs_more_than_filling_pages(
        pieces in prop::collection::vec(any_piece(), 1..30),
        room in 6_u32..12,
    ) {
        let problem = problem(&pieces, room, 2, vec![1, 0], Remedies::default());
        if let Some(filled) = fill::fill(&problem, 1) {
            let own = problem.cost_of(&filled);
            let best = search::best(&problem);
            if let Some(own) = own {
                prop_assert!(best.is_some_and(|best| best.cost <= own + 1e-6));
            }
        }
    }
}
