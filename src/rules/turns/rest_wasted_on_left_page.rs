//! Rests at the foot of a page that is not turned, while the page beside it has none.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::layout::Side;
use crate::place::{BarIdx, PageIdx};
use crate::players::turning::TurnClass;
use crate::rules::turns::on_pages::time_words;
use crate::rules::{Case, Finding, Outcome, PART, PartCase, Rule, Scope};
use crate::survey::Turn;
use crate::words::listed;

/// A rest that would give time to turn belongs at the foot of a page that is turned.
pub(in crate::rules) struct RestWastedOnLeftPage {
    weight: Weight,
}

/// A turn without enough time, and the last bar of the page before, after which there would be.
type Wasted<'a> = (&'a Turn, BarIdx);

impl Rule for RestWastedOnLeftPage {
    const NAME: &'static str = "rest-wasted-on-left-page";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(RestWastedOnLeftPage { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        let Some(turns) = case.told_turns(&part) else {
            return Outcome::CouldNotRun("recorded page breaks".to_owned());
        };
        let wasted: Vec<Wasted<'_>> =
            turns.into_iter().filter_map(|turn| Some((turn, rest_before(case, &part, turn)?))).collect();
        let Some((turn, rest)) = wasted.first() else { return Outcome::Ran(Vec::new()) };
        let message = match wasted.len() {
            1 => format!(
                "A rest long enough to turn stands at the foot of a left-hand page, after {}; {} to turn {}.",
                case.bar_words(*rest),
                time_words(turn.point.free),
                case.turn_words(turn)
            ),
            several => {
                let rests = wasted.iter().map(|(_, rest)| case.bar_words(*rest));
                format!(
                    "{several} rests long enough to turn stand at the foot of left-hand pages whose neighbours have none: after {}.",
                    listed(rests)
                )
            }
        };
        let place = |(turn, rest): &Wasted<'_>| {
            case.on_turn(
                turn,
                format!("{} to turn; after {} there is enough.", time_words(turn.point.free), case.bar_words(*rest)),
            )
        };
        let key = case.key(Self::NAME, Scope::Page, None, Some(*rest));
        let finding = Finding::unlimited(self.weight, key, format!("{} to turn", time_words(turn.point.free)))
            .asks("the rest at the foot of the right-hand page")
            .at(wasted.iter().map(place).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// The last bar of the left-hand page before a bad turn, when turning there would be well.
fn rest_before(case: &Case<'_>, part: &PartCase<'_>, turn: &Turn) -> Option<BarIdx> {
    if !matches!(turn.point.class?, TurnClass::None | TurnClass::Tight) || part.has_partner(&turn.point) {
        return None;
    }
    let before = PageIdx(turn.page.0.checked_sub(1)?);
    let page = case.page(before).filter(|page| page.side == Side::Verso)?;
    let is_turned = part.turns.iter().any(|other| other.page == before);
    let last = page.span()?.last;
    let class = part.points.iter().find(|point| point.after == last)?.class?;
    (!is_turned && matches!(class, TurnClass::Enough | TurnClass::Easy)).then_some(last)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::players::Hands;
    use crate::rules::tests::{BARS, ByHand, point};
    use crate::score::Family;

    #[test]
    fn a_rest_before_a_bad_turn_is_wasted_and_one_before_a_good_turn_is_not() {
        let part = || ByHand::new(Family::Woodwind, Hands::Wind, 4);
        let said = [
            "A rest long enough to turn stands at the foot of a left-hand page, after bar 16; no time to turn after bar 24 \
             (page 3).",
        ];
        let bad = part().turning(2, TurnClass::None, 0.0);
        assert_eq!(bad.says::<RestWastedOnLeftPage>(), said);
        assert_eq!(part().turning(2, TurnClass::Enough, 3.5).says::<RestWastedOnLeftPage>(), [""; 0]);
        let mut none = part().turning(2, TurnClass::None, 0.0);
        let foot = 2 * BARS - 1;
        none.points[foot as usize] = point(foot, TurnClass::Tight, 2.0);
        assert_eq!(none.says::<RestWastedOnLeftPage>(), [""; 0]);
    }
}
