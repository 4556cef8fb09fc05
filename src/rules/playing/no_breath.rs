//! Slurs and ties that leave a wind player no place to breathe, as information.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::players::Hands;
use crate::rules::{Case, Finding, Outcome, PART, Rule, Scope};
use crate::units::Seconds;

/// How long a wind player plays under one slur or tie.
pub(in crate::rules) struct NoBreath {
    span: Limit<Seconds>,
}

impl Rule for NoBreath {
    const NAME: &'static str = "no-breath";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(NoBreath { span: limits.take("span")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        let longest = part.whole.breath.as_ref().filter(|_| part.player.hands == Hands::Wind);
        let Some(breath) = longest.filter(|own| own.seconds > self.span.value && !own.shared) else {
            return Outcome::Ran(Vec::new());
        };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(breath.bars.first));
        let finding = Finding::beyond(&self.span, key, breath.seconds.to_string())
            .at(vec![case.on_bars(breath.bars, &[])])
            .says(format!("{} under one slur or tie ({}).", breath.seconds, case.bars_words(breath.bars)));
        Outcome::Ran(vec![finding])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::{BarIdx, BarSpan};
    use crate::players::end_to_end::Breath;
    use crate::rules::tests::ByHand;
    use crate::score::Family;

    fn slurred(hands: Hands, seconds: f64, shared: bool) -> Vec<String> {
        let mut part = ByHand::new(Family::Woodwind, hands, 2);
        let bars = BarSpan::new(BarIdx(1), BarIdx(11));
        part.whole.breath = Some(Breath { bars, seconds: Seconds(seconds), shared });
        part.says::<NoBreath>()
    }

    #[test]
    fn breath_is_asked_of_a_wind_player_whom_nobody_relieves() {
        assert_eq!(slurred(Hands::Wind, 22.0, false), ["22 s under one slur or tie (bars 2-12)."]);
        assert_eq!(slurred(Hands::Wind, 20.0, false), [""; 0]);
        assert_eq!(slurred(Hands::Wind, 22.0, true), [""; 0]);
        assert_eq!(slurred(Hands::Section, 22.0, false), [""; 0]);
    }
}
