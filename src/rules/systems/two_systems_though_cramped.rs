//! Pages of several systems that have no room for all of them.

use crate::casting_off::Proposal;
use crate::guidelines::{Guidelines, Limit, Mismatch, Percent};
use crate::place::Place;
use crate::rules::room::{self, Room};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Spaces;
use crate::words::{counted_in_words, sentence};

/// How far the estimate may be wrong: in the height of a whole page, and in a single gap.
pub(in crate::rules) struct TwoSystemsThoughCramped {
    slack: Limit<Percent>,
    overlap: Limit<Spaces>,
}

impl Rule for TwoSystemsThoughCramped {
    const NAME: &'static str = "two-systems-though-cramped";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(TwoSystemsThoughCramped { slack: limits.take("slack")?, overlap: limits.take("overlap")? })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some((rooms, proposal)) = case.told_rooms() else { return Outcome::CouldNotRun(room::NEEDED.to_owned()) };
        let cramped: Vec<(Place, String)> = rooms
            .iter()
            .filter(|room| room.page.systems.len() > 1)
            .filter_map(|room| {
                let says = self.cramped(case, room, proposal)?;
                Some((
                    case.on_page(room.at).with_words(sentence(&says), ""),
                    format!("{}: {says}", case.page_words(room.at)),
                ))
            })
            .collect();
        let Some((_, first)) = cramped.first() else { return Outcome::Ran(Vec::new()) };
        let others = match cramped.len() - 1 {
            0 => String::new(),
            1 => " One more page is as full.".to_owned(),
            more => format!(" {more} more pages are as full."),
        };
        let message = format!("{first}{others}");
        let found = format!("{} too full", counted_in_words(cramped.len(), "page"));
        let finding = Finding::beyond(&self.slack, case.key(Self::NAME, Scope::Work, None, None), found)
            .asks("no more than the height between the margins")
            .at(cramped.into_iter().map(|(place, _)| place).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

impl TwoSystemsThoughCramped {
    /// What is wrong with a page of several systems.
    fn cramped(&self, case: &Case<'_>, room: &Room<'_>, proposal: &Proposal) -> Option<String> {
        let systems = counted_in_words(room.page.systems.len(), "system");
        if room.lacks(self.slack.value) {
            return Some(format!("its {systems} need {} % of the height between the margins.", room.percent()));
        }
        let meeting = case.collisions(room.at, true, self.overlap.value);
        let by = meeting.iter().map(|gap| case.clearance(gap)).reduce(Spaces::min)?;
        let mut pages = room::proposed(proposal, room.page.span()?);
        // Where more room on the same page would do, the distance is at fault, not the number of systems.
        if !pages.all(|page| page.systems.len() < room.page.systems.len()) {
            return None;
        }
        Some(format!("its {systems} run {:.1} spaces into each other, and the page has no more room.", by.0.abs()))
    }
}
