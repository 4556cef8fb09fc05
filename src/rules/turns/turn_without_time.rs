//! Turns for which the player has to stop playing.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::BarSpan;
use crate::players::Hands;
use crate::players::turning::{Frees, TurnClass, TurnPoint};
use crate::rules::turns::on_pages::time_words;
use crate::rules::{Case, Finding, Outcome, PART, PartCase, Rule, Scope};
use crate::survey::Alternative;
use crate::units::Seconds;
use crate::words::sentence;

/// A right-hand page ends where the hands are free, and so does a repeat that leads back to another page.
pub(in crate::rules) struct TurnWithoutTime {
    weight: Weight,
}

/// A turn onwards or back.
struct Turning<'a> {
    point: &'a TurnPoint,
    alternative: Option<&'a Alternative>,
    /// "after bar 174 (page 3)", "back from bar 40 to bar 9".
    words: String,
}

/// From here on a section is heard well enough with half its players: f.
const LOUD: i8 = 1;

impl Rule for TurnWithoutTime {
    const NAME: &'static str = "turn-without-time";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(TurnWithoutTime { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(part) = case.part else { return Outcome::CouldNotRun(PART.to_owned()) };
        let mut bad = turnings(case, &part);
        bad.retain(|own| own.point.class == Some(TurnClass::None) && !is_spared(&part, own.point));
        let free = |own: &Turning<'_>| own.point.free.unwrap_or(Seconds::ZERO).0;
        let shortest = bad.iter().enumerate().min_by(|(_, one), (_, other)| free(one).total_cmp(&free(other)));
        let Some((at, worst)) = shortest else { return Outcome::Ran(Vec::new()) };
        let weight = bad.iter().map(|own| self.weight_of(&part, own.point)).max().unwrap_or(self.weight);
        let time = time_words(worst.point.free);
        let who = if part.has_partner(worst.point) { " One player of each desk stops playing." } else { "" };
        let message = match bad.len() {
            1 => format!("{time} to turn {}.{who}", worst.words),
            several => {
                format!("{several} turns come without time for them, the shortest {}: {time}.{who}", worst.words)
            }
        };
        let place = |own: &Turning<'_>| {
            let better = own.alternative.map(|other| format!(" {}", case.better_turn(other))).unwrap_or_default();
            let says = format!("{} to turn {}.{better}", time_words(own.point.free), own.words);
            case.on_bars(BarSpan::one(own.point.after), &[]).with_words(sentence(&says), "")
        };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(worst.point.after));
        let finding = Finding::unlimited(weight, key, format!("{time} to turn"))
            .asks(format!("about {}", worst.point.needed))
            .at(bad.iter().map(place).collect())
            .worst_at(Some(at))
            .says(message);
        Outcome::Ran(vec![match worst.alternative {
            Some(other) => finding.with_remedy(case.better_turn(other)),
            None => finding,
        }])
    }
}

/// Turns by hand, onwards and back, in the order of the music.
fn turnings<'a>(case: &Case<'_>, part: &PartCase<'a>) -> Vec<Turning<'a>> {
    let onwards = part.turns_by_hand().map(|turn| Turning {
        point: &turn.point,
        alternative: turn.alternative.as_ref(),
        words: case.turn_words(turn),
    });
    let by_hand = part.is_turned_by_hand();
    let back = part.backward.iter().filter(|_| by_hand).map(|back| Turning {
        point: &back.point,
        alternative: None,
        words: format!("back from {} to {}", case.bar_words(back.from), case.bar_words(back.to)),
    });
    let mut all: Vec<Turning<'a>> = onwards.chain(back).collect();
    all.sort_by_key(|own| own.point.after);
    all
}

impl TurnWithoutTime {
    /// A desk has a partner to turn; a short rest, or a tempo that is only assumed, leaves a doubt.
    fn weight_of(&self, part: &PartCase<'_>, point: &TurnPoint) -> Weight {
        if part.has_partner(point) {
            return self.weight.min(Weight::Look);
        }
        if point.frees != Frees::Nothing || point.assumed.is_some() {
            return self.weight.min(Weight::Mend);
        }
        self.weight
    }
}

/// Where a section plays loud and undivided, half of it is enough for the moment; divided or alone it is a fault of its own.
fn is_spared(part: &PartCase<'_>, point: &TurnPoint) -> bool {
    let is_section = part.player.hands == Hands::Section;
    is_section && (point.alone || loudness(part, point).is_some_and(|level| level >= LOUD))
}

/// In force at the bar before the turn.
fn loudness(part: &PartCase<'_>, point: &TurnPoint) -> Option<i8> {
    let passage = part.whole.plays.iter().find(|passage| passage.bars.contains(point.after))?;
    let nth = point.after.0.checked_sub(passage.bars.first.0)?;
    passage.levels.get(nth as usize)?.loudness
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::casting_off::part::Binding;
    use crate::place::BarIdx;
    use crate::players::end_to_end::{BarLevel, Passage};
    use crate::rules::tests::{ByHand, point};
    use crate::score::Family;
    use crate::survey::BackwardTurn;

    fn flute(free: f64) -> ByHand {
        ByHand::new(Family::Woodwind, Hands::Wind, 2).turning(0, TurnClass::None, free)
    }

    #[test]
    fn a_player_alone_without_any_rest_stops_the_rehearsal() {
        let findings = flute(0.0).findings::<TurnWithoutTime>();
        assert_eq!(findings[0].message, "No time to turn after bar 8 (page 1).");
        assert_eq!((findings[0].weight, findings[0].limit.as_str()), (Weight::Stop, "about 3 s"));
        let short = flute(1.2).findings::<TurnWithoutTime>();
        assert_eq!(
            (short[0].message.as_str(), short[0].weight),
            ("About 1 s to turn after bar 8 (page 1).", Weight::Mend)
        );
    }

    #[test]
    fn several_turns_are_one_finding_that_tells_of_the_shortest() {
        let part = ByHand::new(Family::Woodwind, Hands::Wind, 4);
        let part = part.turning(0, TurnClass::None, 1.0).turning(2, TurnClass::None, 0.0);
        let findings = part.findings::<TurnWithoutTime>();
        assert_eq!(
            findings[0].message,
            "2 turns come without time for them, the shortest after bar 24 (page 3): no time."
        );
        assert_eq!((findings[0].places.len(), findings[0].worst), (2, 1));
    }

    #[test]
    fn the_same_bar_of_another_player_is_another_finding() {
        let mut part = flute(0.0);
        part.player.name = "Flute 2".to_owned();
        let findings = part.findings::<TurnWithoutTime>();
        assert_eq!(findings[0].key.to_string(), "turn-without-time@bar/Flute 2/1:7/0");
    }

    #[test]
    fn a_better_place_is_the_remedy() {
        let mut part = flute(0.0);
        let after = BarIdx(5);
        let other = Alternative { after, class: TurnClass::Enough, pages: 1, turns: 0 };
        part.turns[0].alternative = Some(other);
        let findings = part.findings::<TurnWithoutTime>();
        let remedy = "Break the page after bar 6 instead: enough time, at the price of one page more.";
        assert_eq!(findings[0].remedy, remedy);
    }

    #[test]
    fn half_a_section_is_missed_only_where_it_is_soft() {
        let violins = |loudness: Option<i8>| {
            let mut part = ByHand::new(Family::Strings, Hands::Section, 2).turning(0, TurnClass::None, 0.0);
            let bars = BarSpan::new(BarIdx(0), BarIdx(15));
            let levels = vec![BarLevel { loudness, range: None }; 16];
            part.whole.plays = vec![Passage { bars, starts: None, seconds: None, levels }];
            part
        };
        assert_eq!(violins(Some(1)).says::<TurnWithoutTime>(), [""; 0]);
        let soft = violins(Some(-1)).findings::<TurnWithoutTime>();
        assert_eq!(soft[0].message, "No time to turn after bar 8 (page 1). One player of each desk stops playing.");
        assert_eq!(soft[0].weight, Weight::Look);
    }

    #[test]
    fn a_repeat_that_leads_back_over_the_page_needs_time_as_well() {
        let mut part = ByHand::new(Family::Woodwind, Hands::Wind, 2);
        let point = point(11, TurnClass::None, 0.0);
        part.backward = vec![BackwardTurn { from: BarIdx(11), to: BarIdx(4), pages: 1, point }];
        assert_eq!(part.says::<TurnWithoutTime>(), ["No time to turn back from bar 12 to bar 5."]);
    }

    #[test]
    fn a_screen_needs_no_hand() {
        let mut part = flute(0.0);
        part.stand.binding = Binding::Tablet;
        assert_eq!(part.says::<TurnWithoutTime>(), [""; 0]);
    }

    #[test]
    fn where_the_time_is_not_known_nothing_is_said() {
        let mut part = flute(0.0);
        part.turns[0].point.class = None;
        assert_eq!(part.says::<TurnWithoutTime>(), [""; 0]);
    }
}
