//! Staves that cannot be read from where the music lies.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::{PageIdx, Place, StaffId};
use crate::rules::pages::Standing;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::Family;
use crate::units::Mm;
use crate::words::listed;

/// Heights of the five-line staff, for scores and for parts, and the distances they are read from.
pub(in crate::rules) struct StaffTooSmall {
    score_unreadable: Limit<Mm>,
    score_floor: Limit<Mm>,
    part_unreadable: Limit<Mm>,
    part_floor: Limit<Mm>,
    shared_part_floor: Limit<Mm>,
    conductor_distance: Mm,
    player_distance: Mm,
}

/// How far a book is held from the eyes (common practice): what a height "looks like" is what it would be there.
const READING_DISTANCE: Mm = Mm(400.0);

impl Rule for StaffTooSmall {
    const NAME: &'static str = "staff-too-small";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        let house = guidelines.house();
        guidelines.read(Self::NAME, |limits| {
            Ok(StaffTooSmall {
                score_unreadable: limits.take("score-unreadable")?,
                score_floor: limits.take("score-floor")?,
                part_unreadable: limits.take("part-unreadable")?,
                part_floor: limits.take("part-floor")?,
                shared_part_floor: limits.take("shared-part-floor")?,
                conductor_distance: house.conductor_distance.value,
                player_distance: house.player_distance.value,
            })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(smallest) = case.told_staves().map(|own| own.staff.height.rounded()).reduce(Mm::min) else {
            return Outcome::CouldNotRun("recorded staff heights".to_owned());
        };
        let limit = self.limit_for(case, smallest);
        Outcome::Ran(limit.map(|limit| self.small_staves(case, limit, smallest)).into_iter().collect())
    }
}

impl StaffTooSmall {
    /// The heaviest limit that a height falls short of.
    pub(in crate::rules) fn limit_for(&self, case: &Case<'_>, height: Mm) -> Option<&Limit<Mm>> {
        let is_shared = case.score.parts.iter().all(|part| part.family == Family::Strings);
        let limits = if case.is_part() {
            [Some(&self.part_unreadable), Some(&self.part_floor), is_shared.then_some(&self.shared_part_floor)]
        } else {
            [Some(&self.score_unreadable), Some(&self.score_floor), None]
        };
        limits.into_iter().flatten().find(|limit| height < limit.value)
    }

    /// "; from the podium it looks like a staff of 1.9 mm at reading distance", nothing where it is read as a book is.
    pub(in crate::rules) fn how_it_looks(&self, case: &Case<'_>, height: Mm) -> String {
        let (from, distance) =
            if case.is_part() { ("the chair", self.player_distance) } else { ("the podium", self.conductor_distance) };
        if distance <= READING_DISTANCE {
            return String::new();
        }
        let looks = (height * (READING_DISTANCE / distance)).0;
        format!("; from {from} that looks like {looks:.1} mm at reading distance")
    }

    fn small_staves(&self, case: &Case<'_>, limit: &Limit<Mm>, height: Mm) -> Finding {
        let is_small = |own: &Standing<'_>| own.staff.height.rounded() < limit.value;
        let small: Vec<Standing<'_>> = case.told_staves().filter(is_small).collect();
        let are_all = small.len() == case.told_staves().count();
        let staves = if are_all { Vec::new() } else { names(&small) };
        let who = match staves.as_slice() {
            [] => format!("All staves are {height} high"),
            [one] => format!("{} stands on a staff {height} high", case.staff_words(*one)),
            several => {
                let names = listed(several.iter().map(|staff| case.staff_words(*staff)));
                format!("{} stand on staves {height} high", names)
            }
        };
        let floor = case.limit(&self.score_floor, &self.part_floor).value.max(limit.value);
        let larger = (floor / height * 100.0).ceil();
        let key = case.key(Self::NAME, Scope::Work, staves.first().copied(), None);
        Finding::beyond(limit, key, height.to_string())
            .at(places(case, &small, are_all))
            .says(format!("{who}{}.", self.how_it_looks(case, height)))
            .with_remedy(format!("Set staves {} high or more, or print these pages at {larger:.0} %.", floor))
    }
}

/// The staves that are small, each once, from the top.
fn names(small: &[Standing<'_>]) -> Vec<StaffId> {
    let mut staves: Vec<StaffId> = small.iter().filter_map(|own| own.staff.staff).collect();
    staves.sort_unstable();
    staves.dedup();
    staves
}

fn places(case: &Case<'_>, small: &[Standing<'_>], are_all: bool) -> Vec<Place> {
    if are_all {
        let pages: Vec<PageIdx> = case.music_pages().map(|(page, _)| page).collect();
        return case.on_pages(&pages);
    }
    case.on_standing(small)
}
