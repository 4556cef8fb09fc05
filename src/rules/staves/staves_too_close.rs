//! Neighbouring staves whose notes and marks run into each other.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::{BarIdx, PageIdx};
use crate::rules::places::sentence;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::survey::{Gap, GapKind};
use crate::units::Spaces;

/// Room between two staves, judged only where something stands in it.
pub(in crate::rules) struct StavesTooClose {
    least_gap: Limit<Spaces>,
    least_clearance: Limit<Spaces>,
}

/// A gap with something in it, at the bar where its contents come closest.
#[derive(Clone, Copy)]
struct Meeting<'a> {
    gap: &'a Gap,
    bar: BarIdx,
    white: Spaces,
}

impl Rule for StavesTooClose {
    const NAME: &'static str = "staves-too-close";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            let (least_gap, least_clearance) = (limits.take("least-gap")?, limits.take("least-clearance")?);
            Ok(StavesTooClose { least_gap, least_clearance })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let told: Vec<&Gap> = case.told_gaps().filter(|gap| gap.kind != GapKind::Systems).collect();
        if told.is_empty() && case.score.staves.len() > 1 {
            return Outcome::CouldNotRun("recorded distances between staves".to_owned());
        }
        let meeting = |gap| Some(Meeting { gap, bar: gap.tightest?.bar, white: case.clearance(gap) });
        let met = told.into_iter().filter_map(meeting);
        let touching: Vec<Meeting<'_>> = met.filter(|own| own.white < self.least_clearance.value).collect();
        let is_narrow = |own: &Meeting<'_>| own.gap.spaces < self.least_gap.value;
        let narrow: Vec<Meeting<'_>> = touching.iter().copied().filter(is_narrow).collect();
        let finding = match narrow.as_slice() {
            [] => one_for_all(case, &self.least_clearance, &touching, |own| own.white),
            narrow => one_for_all(case, &self.least_gap, narrow, |own| own.gap.spaces),
        };
        Outcome::Ran(finding.into_iter().collect())
    }
}

/// Told by the worst bar, with all places.
fn one_for_all(
    case: &Case<'_>,
    limit: &Limit<Spaces>,
    met: &[Meeting<'_>],
    found: impl Fn(&Meeting<'_>) -> Spaces,
) -> Option<Finding> {
    let worst = met.iter().min_by(|one, other| one.white.0.total_cmp(&other.white.0))?;
    let mut pages: Vec<PageIdx> = met.iter().map(|own| own.gap.page).collect();
    pages.dedup();
    let more = if pages.len() > 1 { format!(" Staves touch on {}.", case.pages_words(&pages)) } else { String::new() };
    let message = format!(
        "{}: {} and {} stand {:.1} spaces apart, and at {} their notes and marks need {:.1}.{more}",
        sentence(&case.page_words(worst.gap.page)),
        case.staff_words(worst.gap.upper),
        case.staff_words(worst.gap.lower),
        worst.gap.spaces.0,
        case.bar_words(worst.bar),
        (worst.gap.spaces - worst.white).0,
    );
    let key = case.key(StavesTooClose::NAME, Scope::Bar, Some(worst.gap.upper), Some(worst.bar));
    let places = met.iter().map(|own| case.on_gap(own.gap)).collect();
    Some(Finding::beyond(limit, key, found(worst).to_string()).at(places).says(message))
}
