//! Bars that hold more than their metre.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::Cell;
use crate::units::Fraction;
use crate::words::counted;

/// No staff lasts longer than the metre.
pub(in crate::rules) struct BarOverfull {
    weight: Weight,
}

/// A bar that a staff overfills.
#[derive(Clone, Copy)]
struct Overfull {
    bar: BarIdx,
    /// In quarters.
    lasts: Fraction,
    metre: Fraction,
}

/// Parts of a quarter: tuplets that a program rounded are off by less than a 64th note.
const ROUNDING: i64 = 16;

impl Rule for BarOverfull {
    const NAME: &'static str = "bar-overfull";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(BarOverfull { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let staves = (0..case.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
        Outcome::Ran(staves.filter_map(|staff| self.on_staff(case, staff)).collect())
    }
}

impl BarOverfull {
    /// One finding a staff, with all its bars.
    fn on_staff(&self, case: &Case<'_>, staff: StaffId) -> Option<Finding> {
        let bars = (0..case.score.bars.len()).map(|at| BarIdx(at as u32));
        let overfull: Vec<Overfull> = bars.filter_map(|bar| overfull(case, bar, staff)).collect();
        let first = overfull.first().copied()?;
        let more =
            if overfull.len() > 1 { format!("; {} in all", counted(overfull.len(), "bar")) } else { String::new() };
        let message = format!(
            "{}, {}: the notes last {}, and the metre gives {}{more}.",
            case.staff_words(staff),
            case.bar_words(first.bar),
            quarters(first.lasts),
            number(first.metre),
        );
        let key = case.key(Self::NAME, Scope::Bar, Some(staff), Some(first.bar));
        let finding = Finding::unlimited(self.weight, key, quarters(first.lasts)).asks(quarters(first.metre));
        let places = overfull.iter().map(|own| case.on_bars(BarSpan::one(own.bar), &[staff])).collect();
        Some(finding.at(places).says(message))
    }
}

fn overfull(case: &Case<'_>, bar: BarIdx, staff: StaffId) -> Option<Overfull> {
    let own = case.score.bar(bar)?;
    let metre = own.metre.as_ref()?.length;
    let lasts = length(case.score.cell(bar, staff)?)?;
    let is_over = lasts.checked_sub(metre)? > Fraction::new(1, ROUNDING)?;
    (is_over && !own.uncounted && !is_meant(case, bar, lasts)).then_some(Overfull { bar, lasts, metre })
}

/// All staves with anything in them last as long: a cadenza, or a change of metre that is not printed. A staff alone
/// cannot mean it.
fn is_meant(case: &Case<'_>, bar: BarIdx, lasts: Fraction) -> bool {
    let staves = (0..case.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
    let mut lengths = staves.filter_map(|staff| length(case.score.cell(bar, staff)?)).peekable();
    case.score.staves.len() > 1 && lengths.all(|length| length == lasts)
}

/// From the bar's start to the end of its last note or rest; `None` where nothing stands.
fn length(cell: &Cell) -> Option<Fraction> {
    cell.events.iter().filter_map(|event| event.onset.checked_add(event.length)).max()
}

/// "4 quarters", "4 1/2 quarters", "1/2 quarter".
fn quarters(length: Fraction) -> String {
    let noun = if length > Fraction::ONE { "quarters" } else { "quarter" };
    format!("{} {noun}", number(length))
}

fn number(length: Fraction) -> String {
    match (length.num() / length.den(), length.num() % length.den()) {
        (whole, 0) => whole.to_string(),
        (0, rest) => format!("{rest}/{}", length.den()),
        (whole, rest) => format!("{whole} {rest}/{}", length.den()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_told_in_quarters_and_parts_of_them() {
        let told = |num, den| quarters(Fraction::new(num, den).unwrap());
        assert_eq!(told(4, 1), "4 quarters");
        assert_eq!(told(9, 2), "4 1/2 quarters");
        assert_eq!(told(1, 1), "1 quarter");
        assert_eq!(told(1, 2), "1/2 quarter");
    }
}
