//! Parts that end before the others do.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::Movement;
use crate::words::{counted, listed};

/// Every part of a movement holds the same bars.
pub(in crate::rules) struct PartsOfUnequalLength {
    weight: Weight,
}

/// A part that ended, with the bars that it lacks.
#[derive(Clone, Copy)]
struct Ended {
    staff: StaffId,
    lacks: BarSpan,
}

impl Rule for PartsOfUnequalLength {
    const NAME: &'static str = "parts-of-unequal-length";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(PartsOfUnequalLength { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let ended: Vec<Ended> = case.score.movements.iter().flat_map(|movement| ended_in(case, movement)).collect();
        let Some(first) = ended.first().copied() else { return Outcome::Ran(Vec::new()) };
        let names = listed(ended.iter().map(|own| case.staff_words(own.staff)));
        let verb = if ended.len() == 1 { "ends" } else { "end" };
        let short = counted(first.lacks.count() as usize, "bar");
        let message = format!(
            "{names} {verb} {short} before the others; the first one missing is {}.",
            case.bar_words(first.lacks.first)
        );
        let key = case.key(Self::NAME, Scope::Bar, Some(first.staff), Some(first.lacks.first));
        let finding = Finding::unlimited(self.weight, key, format!("{short} missing"))
            .asks("the same bars in all parts")
            .at(ended.iter().map(|own| case.on_bars(own.lacks, &[own.staff])).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// Parts with nothing written at all, not even rests, from some bar to the end of a movement, while others go on.
fn ended_in(case: &Case<'_>, movement: &Movement) -> Vec<Ended> {
    let parts = (0..case.score.parts.len()).filter_map(|at| u16::try_from(at).ok()).map(PartId);
    let ends: Vec<(PartId, Option<BarIdx>)> =
        parts.map(|part| (part, last_written(case, part, movement.bars))).collect();
    let last = ends.iter().filter_map(|(_, end)| *end).max();
    let short = ends.iter().filter_map(|(part, end)| Some((*part, (*end)?, last?)));
    let short = short.filter(|(_, end, last)| end < last);
    let told = short.filter_map(|(part, end, last)| {
        let staff = case.score.staves_of(part).next()?;
        Some(Ended { staff, lacks: BarSpan::new(BarIdx(end.0 + 1), last) })
    });
    told.collect()
}

fn last_written(case: &Case<'_>, part: PartId, movement: BarSpan) -> Option<BarIdx> {
    let is_written = |bar: &BarIdx| {
        let cells = case.score.staves_of(part).filter_map(|staff| case.score.cell(*bar, staff));
        cells.into_iter().any(|cell| !cell.events.is_empty() || !cell.is_silent())
    };
    (movement.first.0..=movement.last.0).rev().map(BarIdx).find(is_written)
}
