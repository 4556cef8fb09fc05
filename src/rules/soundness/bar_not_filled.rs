//! Bars in which a staff ends before the others do.

use super::gathered::At;
use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::BarIdx;
use crate::rules::{Case, Outcome, Rule};
use crate::score::Cell;
use crate::units::Fraction;

/// Every staff lasts as long as its bar.
pub(in crate::rules) struct BarNotFilled {
    weight: Weight,
}

impl Rule for BarNotFilled {
    const NAME: &'static str = "bar-not-filled";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(BarNotFilled { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let bars = |staff| (0..case.score.bars.len()).map(move |bar| (staff, BarIdx(bar as u32)));
        let mut short: Vec<At> = case.all_staves().flat_map(bars).filter(|at| is_short(case, *at)).collect();
        short.sort_by_key(|(staff, bar)| (*bar, *staff));
        let finding =
            case.gathered(Self::NAME, self.weight, &short, "Notes and rests end before the bar does", "the whole bar");
        Outcome::Ran(finding.into_iter().collect())
    }
}

/// Parts of a quarter: tuplets that a program rounded are off by less than a 64th note.
const ROUNDING: i64 = 16;

fn is_short(case: &Case<'_>, (staff, bar): At) -> bool {
    let Some((own, cell)) = case.score.bar(bar).zip(case.score.cell(bar, staff)) else { return false };
    let Some(metre) = own.metre.as_ref().map(|metre| metre.length) else { return false };
    let Some(lasts) = length(cell) else { return false };
    let lacks = own.length.min(metre).checked_sub(lasts);
    let rounding = Fraction::new(1, ROUNDING).unwrap_or(Fraction::ZERO);
    // Filled with signs that stand for whole bars, or on a staff that only begins or ends here.
    !own.uncounted && !cell.repeats_previous && !cell.slashes && lacks.is_some_and(|lacks| lacks > rounding)
}

/// From the bar's start to the end of its last note or rest; `None` where nothing stands.
fn length(cell: &Cell) -> Option<Fraction> {
    cell.events.iter().filter_map(|event| event.onset.checked_add(event.length)).max()
}
