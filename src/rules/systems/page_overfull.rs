//! Pages whose one system is higher than the room between the margins.

use crate::guidelines::{Guidelines, Limit, Mismatch, Percent};
use crate::rules::room::{self, Room};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Spaces;
use crate::words::{counted_in_words, sentence};

/// How far the estimate may be wrong: in the height of a whole page, and in a single gap.
pub(in crate::rules) struct PageOverfull {
    slack: Limit<Percent>,
    overlap: Limit<Spaces>,
}

impl Rule for PageOverfull {
    const NAME: &'static str = "page-overfull";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(PageOverfull { slack: limits.take("slack")?, overlap: limits.take("overlap")? })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some((rooms, _)) = case.told_rooms() else { return Outcome::CouldNotRun(room::NEEDED.to_owned()) };
        let single = rooms.into_iter().filter(|room| room.page.systems.len() == 1);
        let overfull: Vec<(Room<'_>, usize)> = single
            .map(|room| (room, case.collisions(room.at, false, self.overlap.value).len()))
            .filter(|(room, collisions)| self.is_overfull(room, *collisions))
            .collect();
        let worst = overfull.iter().enumerate().max_by(|(_, one), (_, other)| {
            one.0.need.share().total_cmp(&other.0.need.share()).then(other.0.at.cmp(&one.0.at))
        });
        let Some((at, (room, collisions))) = worst else { return Outcome::Ran(Vec::new()) };
        let others = match overfull.len() - 1 {
            0 => String::new(),
            1 => " One more page is overfull.".to_owned(),
            more => format!(" {more} more pages are overfull."),
        };
        let message = format!("{}: {}{others}", case.page_words(room.at), says(room, *collisions));
        let found = format!("{} % of the height", room.percent());
        let place = |(room, collisions): &(Room<'_>, usize)| {
            case.on_page(room.at).with_words(sentence(&says(room, *collisions)), "")
        };
        let finding = Finding::beyond(&self.slack, case.key(Self::NAME, Scope::Work, None, None), found)
            .asks("no more than the height between the margins")
            .at(overfull.iter().map(place).collect())
            .worst_at(Some(at))
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

impl PageOverfull {
    fn is_overfull(&self, room: &Room<'_>, collisions: usize) -> bool {
        room.lacks(self.slack.value) || (room.lacks(Percent(0.0)) && collisions > 0)
    }
}

fn says(room: &Room<'_>, collisions: usize) -> String {
    let gaps = match collisions {
        0 => String::new(),
        some => format!("; in {} between staves they run into each other", counted_in_words(some, "gap")),
    };
    format!("staves, notes and marks need {} % of the height between the margins{gaps}.", room.percent())
}
