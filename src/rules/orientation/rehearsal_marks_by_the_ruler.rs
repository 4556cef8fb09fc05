//! Rehearsal marks at every fifth or tenth bar, whatever the music does.

use crate::guidelines::{Guidelines, Limit, Mismatch, Percent};
use crate::place::{BarIdx, BarSpan};
use crate::rules::orientation::marks::Mark;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::Score;
use crate::words::counted;

/// What share of the marks stands at multiples of a number.
pub(in crate::rules) struct RehearsalMarksByTheRuler {
    step: Limit<u32>,
    share: Limit<Percent>,
}

/// Fewer marks are no habit.
const LEAST_MARKS: usize = 4;

impl Rule for RehearsalMarksByTheRuler {
    const NAME: &'static str = "rehearsal-marks-by-the-ruler";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(RehearsalMarksByTheRuler { step: limits.take("step")?, share: limits.take("share")? })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let marks: Vec<Mark<'_>> = case.marks_by_movement().into_iter().flat_map(|(_, marks)| marks).collect();
        let ruled = marks.iter().filter(|mark| self.is_ruled(case.score.label(mark.bar))).count();
        let is_habit = marks.len() >= LEAST_MARKS && ruled as f64 * 100.0 > self.share.value.0 * marks.len() as f64;
        let passed: Vec<BarIdx> = landmarks(case).filter(|bar| !marks.iter().any(|mark| mark.bar == *bar)).collect();
        let (true, Some(first)) = (is_habit, passed.first()) else { return Outcome::Ran(Vec::new()) };
        let message = format!(
            "{ruled} of {} rehearsal marks stand at multiples of {}, and {} or tempo {} without one.",
            marks.len(),
            self.step.value,
            counted(passed.len(), "double bar"),
            if passed.len() == 1 { "change is" } else { "changes are" },
        );
        let key = case.key(Self::NAME, Scope::Bar, None, Some(*first));
        let finding = Finding::beyond(&self.share, key, format!("{ruled} of {}", marks.len()))
            .at(passed.iter().map(|bar| case.on_bars(BarSpan::one(*bar), &[])).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

impl RehearsalMarksByTheRuler {
    fn is_ruled(&self, label: &str) -> bool {
        label.parse::<u32>().is_ok_and(|number| self.step.value > 0 && number % self.step.value == 0)
    }
}

/// Bars after double bars, and bars where the tempo changes; not where a movement begins.
fn landmarks<'a>(case: &Case<'a>) -> impl Iterator<Item = BarIdx> + use<'a> {
    let (score, timeline) = (case.score, &case.survey.timeline);
    let bars = (1..score.bars.len()).map(|at| BarIdx(at as u32));
    let is_start =
        |score: &Score, bar: BarIdx| score.movement_of(bar).is_some_and(|movement| movement.bars.first == bar);
    bars.filter(move |bar| {
        let before = score.bar(BarIdx(bar.0 - 1)).is_some_and(|bar| bar.right.is_double);
        let own = score.bar(*bar).is_some_and(|bar| bar.left.is_double);
        let tempo = timeline.landmarks.iter().any(|landmark| landmark.bar == *bar && landmark.tempo.is_some());
        (before || own || tempo) && !is_start(score, *bar)
    })
}
