//! Long stretches of music without a rehearsal mark.

use crate::guidelines::BarNumbering;
use crate::guidelines::{Guidelines, Limit, Mismatch, Weight};
use crate::place::{BarIdx, BarSpan};
use crate::rules::orientation::marks::Mark;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Seconds;
use crate::words::counted;

/// Only a stretch longer than both counts.
pub(in crate::rules) struct RehearsalMarksFarApart {
    bars: Limit<u32>,
    seconds: Limit<Seconds>,
    numbers: BarNumbering,
}

/// Music between two marks, or between a mark and an end of its movement.
#[derive(Clone, Copy)]
struct Unmarked {
    bars: BarSpan,
    seconds: Seconds,
}

impl Rule for RehearsalMarksFarApart {
    const NAME: &'static str = "rehearsal-marks-far-apart";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        let numbers = guidelines.house().bar_numbers.value;
        guidelines.read(Self::NAME, |limits| {
            Ok(RehearsalMarksFarApart { bars: limits.take("bars")?, seconds: limits.take("seconds")?, numbers })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if self.numbers == BarNumbering::EachBar {
            return Outcome::Ran(Vec::new());
        }
        let movements = case.marks_by_movement();
        let stretches = movements.iter().flat_map(|(bars, marks)| stretches(*bars, marks));
        let timed = stretches.filter_map(|bars| Some(Unmarked { bars, seconds: case.score.seconds_of(bars)? }));
        let long: Vec<Unmarked> = timed.filter(|own| self.is_long(own)).collect();
        let Some(longest) = long.iter().copied().max_by(|one, other| one.seconds.0.total_cmp(&other.seconds.0)) else {
            return Outcome::Ran(Vec::new());
        };
        let has_none = movements.iter().all(|(_, marks)| marks.is_empty());
        let more = if long.len() > 1 { format!(" ({} such stretches)", long.len()) } else { String::new() };
        let message = if has_none {
            let bars = counted(case.score.bars.len(), "bar");
            format!("There is no rehearsal mark in {bars}.")
        } else {
            format!(
                "From {} on, {} ({}) pass without a rehearsal mark{more}.",
                case.start_words(longest.bars.first),
                counted(longest.bars.count() as usize, "bar"),
                longest.seconds,
            )
        };
        let weight = self.bars.weight.min(self.seconds.weight).max(Weight::Look);
        let key = case.key(Self::NAME, Scope::Work, None, None);
        let found = format!("{}, {}", counted(longest.bars.count() as usize, "bar"), longest.seconds);
        let finding = Finding { weight, ..Finding::beyond(&self.bars, key, found) }
            .asks(format!("at most {} or {}", counted(self.bars.value as usize, "bar"), self.seconds.value))
            .at(long.iter().map(|own| case.on_bars(own.bars, &[])).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

impl RehearsalMarksFarApart {
    fn is_long(&self, own: &Unmarked) -> bool {
        own.bars.count() > self.bars.value && own.seconds > self.seconds.value
    }
}

/// A movement cut at its marks.
fn stretches(movement: BarSpan, marks: &[Mark<'_>]) -> Vec<BarSpan> {
    let mut starts: Vec<BarIdx> = std::iter::once(movement.first).chain(marks.iter().map(|mark| mark.bar)).collect();
    starts.dedup();
    let ends = starts.iter().skip(1).map(|next| BarIdx(next.0.saturating_sub(1))).chain([movement.last]);
    starts.iter().zip(ends).map(|(first, last)| BarSpan::new(*first, last)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn span(first: u32, last: u32) -> BarSpan {
        BarSpan::new(BarIdx(first), BarIdx(last))
    }

    #[test]
    fn a_movement_is_cut_before_each_mark() {
        let marks = [Mark { bar: BarIdx(4), text: "A" }, Mark { bar: BarIdx(9), text: "B" }];
        assert_eq!(stretches(span(0, 12), &marks), [span(0, 3), span(4, 8), span(9, 12)]);
    }

    #[test]
    fn a_mark_at_the_very_beginning_cuts_nothing() {
        assert_eq!(stretches(span(3, 12), &[Mark { bar: BarIdx(3), text: "A" }]), [span(3, 12)]);
    }
}
