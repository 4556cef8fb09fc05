//! Pages of one system each whose music has room on fewer pages.

use std::collections::BTreeMap;

use crate::casting_off::{PageNeed, Proposal, ProposalNote, Split};
use crate::guidelines::{Guidelines, Limit, Mismatch, Percent, SilentStaves, Times};
use crate::layout::{Page, System};
use crate::place::{BarSpan, PageIdx, Place};
use crate::rules::room::{self, Room};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;
use crate::words::{counted_in_words, sentence};

/// What must be left over before a second system is suggested, and how far systems must stand apart.
pub(in crate::rules) struct RoomForSecondSystem {
    slack: Limit<Percent>,
    apart: Limit<Times>,
    /// The house shows silent staves, so that systems do not grow lower where few play.
    keeps_staves: bool,
}

impl Rule for RoomForSecondSystem {
    const NAME: &'static str = "room-for-second-system";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        let keeps_staves = guidelines.house().silent_staves.value == SilentStaves::Kept;
        guidelines.read(Self::NAME, |limits| {
            Ok(RoomForSecondSystem { slack: limits.take("slack")?, apart: limits.take("apart")?, keeps_staves })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some((rooms, proposal)) = case.told_rooms() else { return Outcome::CouldNotRun(room::NEEDED.to_owned()) };
        let splits: Vec<(&Split, Vec<PageIdx>)> =
            self.roomy(proposal).filter_map(|split| Some((split, freed(&rooms, split.bars()?)?))).collect();
        let Some((first, pages)) = splits.first().filter(|_| !self.keeps_staves) else {
            return Outcome::Ran(Vec::new());
        };
        let others = match splits.len() - 1 {
            0 => String::new(),
            1 => " It is so in one more place.".to_owned(),
            more => format!(" It is so in {more} more places."),
        };
        let message = format!(
            "{}, now on {}, have room on one page: {}.{others}",
            bars(case, first),
            case.pages_words(pages),
            first.systems_words()
        );
        let found = counted_in_words(splits.len(), "page");
        let finding = Finding::beyond(&self.slack, case.key(Self::NAME, Scope::Work, None, None), found)
            .asks("two systems where few staves play")
            .at(places(case, &splits))
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

impl RoomForSecondSystem {
    /// Proposed pages of several systems that are surely worth it.
    fn roomy<'a>(&self, proposal: &'a Proposal) -> impl Iterator<Item = &'a Split> {
        let within = |bars: BarSpan, all: BarSpan| all.first <= bars.first && bars.last <= all.last;
        let saves_pages = move |own: BarSpan| {
            proposal.notes.iter().any(|note| matches!(note, ProposalNote::Saved(saved) if within(own, saved.bars)))
        };
        let most = 1.0 - self.slack.value.factor();
        let leaves_room = move |need: PageNeed| need.needed < (need.room * most).rounded();
        let apart = self.apart.value.0;
        let splits = proposal.notes.iter().filter_map(|note| match note {
            ProposalNote::Split(split) => Some(split),
            _ => None,
        });
        splits.filter(move |split| {
            let page = proposal.layout.pages.get(split.page.at());
            leaves_room(split.need)
                && split.bars().is_some_and(saves_pages)
                && page.is_some_and(|page| stand_apart(page, apart))
        })
    }
}

/// Whether the systems of a page are further from each other than their staves, by this factor.
fn stand_apart(page: &Page, factor: f64) -> bool {
    let inside = |system: &System| {
        let gaps = system.staves.windows(2).filter_map(|pair| match pair {
            [upper, lower] => Some(lower.top - upper.bottom()),
            _ => None,
        });
        gaps.fold(Mm::ZERO, Mm::max)
    };
    let widest = page.systems.iter().map(inside).fold(Mm::ZERO, Mm::max);
    page.systems.windows(2).all(|pair| match pair {
        [upper, lower] => lower.rect.top - upper.rect.bottom >= widest * factor,
        _ => true,
    })
}

/// Recorded pages of one system most of whose bars a proposed page takes; `None` where it takes less than a page and a
/// half of them, so that nobody would turn less.
fn freed(rooms: &[Room<'_>], bars: BarSpan) -> Option<Vec<PageIdx>> {
    const LEAST_PAGES: f64 = 1.5;
    let mut freed = Vec::new();
    let mut taken = 0.0;
    for room in rooms.iter().filter(|room| room.page.systems.len() == 1) {
        let Some(own) = room.page.span() else { continue };
        let common = own.iter().filter(|bar| bars.contains(*bar)).count() as f64 / f64::from(own.count());
        taken += common;
        if common >= 0.5 {
            freed.push(room.at);
        }
    }
    (taken >= LEAST_PAGES && freed.len() > 1).then_some(freed)
}

/// "Bars 27-38 of movement 1".
fn bars(case: &Case<'_>, split: &Split) -> String {
    split.bars().map_or_else(String::new, |bars| case.bars_words(bars))
}

/// Each freed page once, with the words of the first proposed page that takes it.
fn places(case: &Case<'_>, splits: &[(&Split, Vec<PageIdx>)]) -> Vec<Place> {
    let mut places: BTreeMap<PageIdx, Place> = BTreeMap::new();
    for (split, pages) in splits {
        let says = sentence(&format!("{}: room for {} on one page.", bars(case, split), split.systems_words()));
        for page in pages {
            places.entry(*page).or_insert_with(|| case.on_page(*page).with_words(says.clone(), ""));
        }
    }
    places.into_values().collect()
}
