//! Turns to be made at a dash that nothing warns of.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::players::turning::TurnClass;
use crate::rules::turns::on_pages::{shortest, time_words};
use crate::rules::turns::printed::turn_at_once;
use crate::rules::{Case, Finding, Outcome, PART, Rule, Scope};
use crate::survey::Turn;
use crate::words::listed;

/// "V.S." stands where a turn is tight.
pub(in crate::rules) struct TightTurnUnmarked {
    weight: Weight,
}

impl Rule for TightTurnUnmarked {
    const NAME: &'static str = "tight-turn-unmarked";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(TightTurnUnmarked { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        let Some(turns) = case.told_turns(&part) else {
            return Outcome::CouldNotRun("recorded page breaks".to_owned());
        };
        let is_tight = |turn: &&Turn| turn.point.class == Some(TurnClass::Tight) && !part.has_partner(&turn.point);
        let tight: Vec<&Turn> =
            turns.into_iter().filter(is_tight).filter(|turn| !case.prints_at_foot(turn.page, turn_at_once)).collect();
        let Some((at, worst)) = shortest(&tight).and_then(|at| Some((at, *tight.get(at)?))) else {
            return Outcome::Ran(Vec::new());
        };
        let time = time_words(worst.point.free);
        let message = match tight.len() {
            1 => format!("{time} to turn {}, and no \"V.S.\" stands there.", case.turn_words(worst)),
            several => {
                let bars = tight.iter().map(|turn| case.bar_words(turn.point.after));
                format!("{several} turns are tight and bear no \"V.S.\": after {}.", listed(bars))
            }
        };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(worst.point.after));
        let place =
            |turn: &&Turn| case.on_turn(turn, format!("{} to turn, and no \"V.S.\".", time_words(turn.point.free)));
        let finding = Finding::unlimited(self.weight, key, format!("{time} to turn"))
            .asks("\"V.S.\"")
            .at(tight.iter().map(place).collect())
            .worst_at(Some(at))
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::players::Hands;
    use crate::rules::tests::ByHand;
    use crate::score::Family;

    fn oboe() -> ByHand {
        ByHand::new(Family::Woodwind, Hands::Wind, 2).turning(0, TurnClass::Tight, 2.0)
    }

    #[test]
    fn a_warning_at_the_foot_is_enough() {
        let said = ["About 2 s to turn after bar 8 (page 1), and no \"V.S.\" stands there."];
        assert_eq!(oboe().says::<TightTurnUnmarked>(), said);
        assert_eq!(oboe().print(7, "V.S.").says::<TightTurnUnmarked>(), [""; 0]);
        assert_eq!(oboe().print(8, "V.S.").says::<TightTurnUnmarked>(), said);
    }

    #[test]
    fn on_pages_of_our_own_making_nothing_is_printed_yet() {
        let needs = Outcome::CouldNotRun("recorded page breaks".to_owned());
        assert_eq!(oboe().estimated().outcome::<TightTurnUnmarked>(), needs);
    }
}
