//! Turns while nobody plays.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::players::turning::Frees;
use crate::rules::{Case, Finding, Outcome, PART, Rule, Scope};
use crate::survey::Turn;
use crate::words::listed;

/// No page is turned in a silence of all or under a pause sign.
pub(in crate::rules) struct AudibleTurn {
    weight: Weight,
}

impl Rule for AudibleTurn {
    const NAME: &'static str = "audible-turn";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(AudibleTurn { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        let is_heard = |turn: &&Turn| turn.point.audible && turn.point.frees != Frees::MovementEnds;
        let heard: Vec<&Turn> = part.turns_by_hand().filter(is_heard).collect();
        let Some(first) = heard.first() else { return Outcome::Ran(Vec::new()) };
        let message = match heard.len() {
            1 => format!("The turn {} falls into a silence or a pause of all, and is heard.", case.turn_words(first)),
            several => {
                let bars = heard.iter().map(|turn| case.bar_words(turn.point.after));
                format!("{several} turns fall into a silence or a pause of all, and are heard: after {}.", listed(bars))
            }
        };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(first.point.after));
        let place = |turn: &&Turn| case.on_turn(turn, "A silence or a pause of all: this turn is heard.");
        let finding = Finding::unlimited(self.weight, key, "a turn in silence")
            .asks("a turn while others play")
            .at(heard.iter().map(place).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::players::Hands;
    use crate::players::turning::TurnClass;
    use crate::rules::tests::ByHand;
    use crate::score::Family;

    #[test]
    fn a_turn_in_a_silence_of_all_is_heard_but_not_one_between_movements() {
        let mut part = ByHand::new(Family::Brass, Hands::Wind, 2).turning(0, TurnClass::Easy, 6.0);
        assert_eq!(part.says::<AudibleTurn>(), [""; 0]);
        part.turns[0].point.audible = true;
        assert_eq!(
            part.says::<AudibleTurn>(),
            ["The turn after bar 8 (page 1) falls into a silence or a pause of all, and is heard."]
        );
        part.turns[0].point.frees = Frees::MovementEnds;
        assert_eq!(part.says::<AudibleTurn>(), [""; 0]);
    }
}
