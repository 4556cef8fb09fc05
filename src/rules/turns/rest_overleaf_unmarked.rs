//! Pages played to the foot whose reader cannot know that there is time overleaf.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::rules::turns::printed::{time_to_turn, turn_at_once};
use crate::rules::{Case, Finding, Outcome, PART, Rule, Scope};
use crate::survey::{Turn, TurnAdvice};
use crate::words::{counted, listed};

/// The bars of rest overleaf stand at the foot of the page before.
pub(in crate::rules) struct RestOverleafUnmarked {
    weight: Weight,
}

impl Rule for RestOverleafUnmarked {
    const NAME: &'static str = "rest-overleaf-unmarked";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(RestOverleafUnmarked { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        let Some(turns) = case.told_turns(&part) else {
            return Outcome::CouldNotRun("recorded page breaks".to_owned());
        };
        let says_so = |text: &str| time_to_turn(text) || turn_at_once(text);
        let unmarked: Vec<(&Turn, usize)> = turns
            .into_iter()
            .filter_map(|turn| match turn.advice {
                Some(TurnAdvice::RestOverleaf(bars)) => Some((turn, bars as usize)),
                _ => None,
            })
            .filter(|(turn, _)| !case.prints_at_foot(turn.page, says_so))
            .collect();
        let Some((first, bars)) = unmarked.first().copied() else { return Outcome::Ran(Vec::new()) };
        let message = match unmarked.len() {
            1 => format!(
                "{} of rest come overleaf, and nothing says so {}.",
                counted(bars, "bar"),
                case.turn_words(first)
            ),
            several => {
                let at = unmarked.iter().map(|(turn, _)| case.bar_words(turn.point.after));
                format!("At {several} turns bars of rest come overleaf, and nothing says so: after {}.", listed(at))
            }
        };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(first.point.after));
        let place =
            |(turn, bars): &(&Turn, usize)| case.on_turn(turn, format!("{} of rest overleaf.", counted(*bars, "bar")));
        let finding = Finding::unlimited(self.weight, key, format!("{} of rest overleaf", counted(bars, "bar")))
            .asks("\"time\", or the bars, at the foot of the page")
            .at(unmarked.iter().map(place).collect())
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

    fn horn() -> ByHand {
        let mut part = ByHand::new(Family::Brass, Hands::Wind, 2).turning(0, TurnClass::Easy, 6.0);
        part.turns[0].advice = Some(TurnAdvice::RestOverleaf(4));
        part
    }

    #[test]
    fn the_bars_overleaf_or_the_word_time_are_enough() {
        let said = ["4 bars of rest come overleaf, and nothing says so after bar 8 (page 1)."];
        assert_eq!(horn().says::<RestOverleafUnmarked>(), said);
        assert_eq!(horn().print(7, "time").says::<RestOverleafUnmarked>(), [""; 0]);
        assert_eq!(horn().print(7, "4 bars rest").says::<RestOverleafUnmarked>(), [""; 0]);
        assert_eq!(horn().print(7, "a tempo").says::<RestOverleafUnmarked>(), said);
    }
}
