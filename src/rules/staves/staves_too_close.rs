//! Neighbouring staves whose notes and marks run into each other.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::{BarIdx, PageIdx, Place};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::survey::{Gap, GapKind};
use crate::units::Spaces;

/// Room between two staves, judged only where what stands in it overlaps.
pub(in crate::rules) struct StavesTooClose {
    least_gap: Limit<Spaces>,
    /// What marks need is an estimate, with an error of its own.
    overlap: Limit<Spaces>,
}

/// A gap at the bar where its contents come closest.
#[derive(Clone, Copy)]
struct Meeting<'a> {
    gap: &'a Gap,
    bar: BarIdx,
    overlap: Spaces,
}

impl Rule for StavesTooClose {
    const NAME: &'static str = "staves-too-close";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(StavesTooClose { least_gap: limits.take("least-gap")?, overlap: limits.take("overlap")? })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let told: Vec<&Gap> = case.told_gaps().filter(|gap| gap.kind != GapKind::Systems).collect();
        if told.is_empty() && case.score.staves.len() > 1 {
            return Outcome::CouldNotRun("recorded distances between staves".to_owned());
        }
        let meeting = |gap| Some(Meeting { gap, bar: gap.tightest?.bar, overlap: -case.clearance(gap) });
        let met = told.into_iter().filter_map(meeting).filter(|own| own.overlap > self.overlap.value);
        Outcome::Ran(self.one_for_all(case, &met.collect::<Vec<_>>()).into_iter().collect())
    }
}

impl Meeting<'_> {
    fn needed(&self) -> Spaces {
        self.gap.spaces + self.overlap
    }

    fn place(&self, case: &Case<'_>) -> Place {
        let says = format!(
            "{} and {}: {:.1} spaces; {:.1} needed at {}.",
            case.staff_words_short(self.gap.upper),
            case.staff_words_short(self.gap.lower),
            self.gap.spaces.0,
            self.needed().0,
            case.bar_words_here(self.bar),
        );
        case.on_gap(self.gap).with_words(says, format!("{:.1} spaces", self.needed().0))
    }
}

impl StavesTooClose {
    /// Told by the worst bar, with all places.
    fn one_for_all(&self, case: &Case<'_>, met: &[Meeting<'_>]) -> Option<Finding> {
        let worst = met.iter().max_by(|one, other| one.overlap.0.total_cmp(&other.overlap.0))?;
        let mut pages: Vec<PageIdx> = met.iter().map(|own| own.gap.page).collect();
        pages.dedup();
        pages.retain(|page| *page != worst.gap.page);
        let more = if !pages.is_empty() { format!(" Others on {}.", case.pages_words(&pages)) } else { String::new() };
        let message = format!(
            "{}: {} and {} stand {:.1} spaces apart, and at {} their notes and marks need {:.1}.{more}",
            case.page_words(worst.gap.page),
            case.staff_words(worst.gap.upper),
            case.staff_words(worst.gap.lower),
            worst.gap.spaces.0,
            case.bar_words(worst.bar),
            worst.needed().0,
        );
        let key = case.key(Self::NAME, Scope::Bar, Some(worst.gap.upper), Some(worst.bar));
        // Where the gap itself is as wide as it should be, its contents are at fault.
        let limit = if worst.gap.spaces < self.least_gap.value { &self.least_gap } else { &self.overlap };
        let needed = format!("{:.1} spaces", worst.needed().0);
        let places = met.iter().map(|own| own.place(case)).collect();
        let at = met.iter().position(|own| std::ptr::eq(own.gap, worst.gap));
        let finding = Finding::beyond(limit, key, worst.gap.spaces.to_string());
        Some(finding.asks(needed).at(places).worst_at(at).says(message))
    }
}
