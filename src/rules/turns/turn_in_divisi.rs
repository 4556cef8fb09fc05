//! Turns of a string desk where each player has a line of one's own.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::players::Hands;
use crate::players::turning::TurnClass;
use crate::rules::turns::on_pages::{shortest, time_words};
use crate::rules::{Case, Finding, Outcome, PART, Rule, Scope};
use crate::survey::Turn;
use crate::words::listed;

/// A desk turns where both of its players have the same line, or rest.
pub(in crate::rules) struct TurnInDivisi {
    weight: Weight,
}

impl Rule for TurnInDivisi {
    const NAME: &'static str = "turn-in-divisi";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(TurnInDivisi { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        let lacks_time = |turn: &Turn| matches!(turn.point.class, Some(TurnClass::None | TurnClass::Tight));
        let is_section = part.player.hands == Hands::Section;
        let divided: Vec<&Turn> =
            part.turns_by_hand().filter(|turn| is_section && turn.point.alone && lacks_time(turn)).collect();
        let Some((at, worst)) = shortest(&divided).and_then(|at| Some((at, *divided.get(at)?))) else {
            return Outcome::Ran(Vec::new());
        };
        let time = time_words(worst.point.free);
        let message = match divided.len() {
            1 => format!("{time} to turn {}, where nobody at the desk has the same line.", case.turn_words(worst)),
            several => {
                let bars = divided.iter().map(|turn| case.bar_words(turn.point.after));
                format!(
                    "{several} turns without enough time fall where the desk is divided or plays alone: after {}.",
                    listed(bars)
                )
            }
        };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(worst.point.after));
        let place = |turn: &&Turn| {
            case.on_turn(
                turn,
                format!("{} to turn; nobody at the desk has the same line.", time_words(turn.point.free)),
            )
        };
        let finding = Finding::unlimited(self.weight, key, format!("{time} to turn"))
            .asks(format!("about {}", worst.point.needed))
            .at(divided.iter().map(place).collect())
            .worst_at(Some(at))
            .says(message);
        Outcome::Ran(vec![match &worst.alternative {
            Some(other) => finding.with_remedy(case.better_turn(other)),
            None => finding,
        }])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::tests::ByHand;
    use crate::rules::turns::TurnWithoutTime;
    use crate::score::Family;

    #[test]
    fn a_divided_desk_has_nobody_to_turn_and_is_told_of_once() {
        let mut part = ByHand::new(Family::Strings, Hands::Section, 2).turning(0, TurnClass::None, 0.0);
        assert_eq!(part.says::<TurnInDivisi>(), [""; 0]);
        part.turns[0].point.alone = true;
        let said = ["No time to turn after bar 8 (page 1), where nobody at the desk has the same line."];
        assert_eq!(part.says::<TurnInDivisi>(), said);
        assert_eq!(part.says::<TurnWithoutTime>(), [""; 0]);
    }
}
