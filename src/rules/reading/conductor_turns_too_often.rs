//! Openings with too few seconds of music on them.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::survey::Opening;
use crate::units::Seconds;

/// Music on an opening (two facing pages) between two turns.
pub(in crate::rules) struct ConductorTurnsTooOften {
    least_music: Limit<Seconds>,
}

impl Rule for ConductorTurnsTooOften {
    const NAME: &'static str = "conductor-turns-too-often";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(ConductorTurnsTooOften { least_music: limits.take("least-music")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if !case.has_conductor() {
            return Outcome::Ran(Vec::new());
        }
        if !case.tells_all_bars() {
            return Outcome::CouldNotRun("recorded page breaks".to_owned());
        }
        // The first and the last opening lie still before and after the music.
        let inner = case.survey.openings.len().saturating_sub(2);
        let openings = case.survey.openings.iter().skip(1).take(inner);
        let timed: Vec<(&Opening, Seconds)> = openings.filter_map(|own| Some((own, own.seconds?))).collect();
        if timed.is_empty() && inner > 0 {
            return Outcome::CouldNotRun("a tempo to tell the time by".to_owned());
        }
        let short: Vec<(&Opening, Seconds)> =
            timed.iter().copied().filter(|(_, time)| *time < self.least_music.value).collect();
        let Some((least, time)) = short.iter().copied().min_by(|one, other| one.1.0.total_cmp(&other.1.0)) else {
            return Outcome::Ran(Vec::new());
        };
        let found = format!("{:.1} s", time.0);
        let message = match short.len() {
            1 => format!("The opening with {} lasts {found}.", case.pages_words(&least.pages)),
            several => format!(
                "{several} of {} openings (two facing pages) last less than {}, the shortest {found} ({}).",
                case.survey.openings.len(),
                self.least_music.value,
                case.pages_words(&least.pages),
            ),
        };
        let anchor = least.bars.map(|bars| bars.first);
        let first_pages: Vec<PageIdx> = short.iter().filter_map(|(own, _)| own.pages.first().copied()).collect();
        let finding = Finding::beyond(&self.least_music, case.key(Self::NAME, Scope::Page, None, anchor), found)
            .at(first_pages.iter().map(|page| case.on_page(*page)).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}
