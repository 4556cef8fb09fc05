//! Staves without names.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::{PageIdx, PartId, Place, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::words::counted;

/// Names on the first system, short names on all later ones.
pub(in crate::rules) struct NamesMissing {
    least_staves: Limit<u32>,
}

impl Rule for NamesMissing {
    const NAME: &'static str = "names-missing";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(NamesMissing { least_staves: limits.take("least-staves")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.is_part() {
            return Outcome::Ran(Vec::new());
        }
        let nameless = nameless(case);
        let later = if self.wants_later_names(case) { case.layout.told.names_on_later_systems } else { Some(true) };
        let (message, places, found) = match (nameless.as_slice(), later) {
            ([], Some(true)) => return Outcome::Ran(Vec::new()),
            ([], None) => return Outcome::CouldNotRun("names as printed on later systems".to_owned()),
            ([], Some(false)) => {
                let Some((page, at, system)) = case.layout.systems().nth(1) else { return Outcome::Ran(Vec::new()) };
                let message = "After the first system no staff bears a name.".to_owned();
                (message, vec![case.on_system(page, at, system)], "no short names".to_owned())
            }
            (staves, _) => {
                let verb = if staves.len() == 1 { "bears" } else { "bear" };
                let message = format!("{} {verb} no name on the first system.", counted_staves(staves.len()));
                let place = Place { staves: staves.to_vec(), ..case.on_page(PageIdx(0)) };
                (message, vec![place], counted_staves(staves.len()))
            }
        };
        let key = case.key(Self::NAME, Scope::Work, nameless.first().copied(), None);
        let finding =
            Finding::unlimited(self.least_staves.weight, key, found).asks("full names first, short names after");
        Outcome::Ran(vec![finding.at(places).says(message)])
    }
}

impl NamesMissing {
    /// Few staves that never change place are known without names.
    fn wants_later_names(&self, case: &Case<'_>) -> bool {
        let mut shown = case.survey.shown.iter().map(|own| own.staves.len());
        let first = shown.next().unwrap_or(0);
        case.score.staves.len() >= self.least_staves.value as usize || shown.any(|staves| staves != first)
    }
}

fn counted_staves(staves: usize) -> String {
    if staves == 1 { "1 staff".to_owned() } else { counted(staves, "stave") }
}

/// The upper staves of parts that neither bear a name nor stand under the name of a group.
fn nameless(case: &Case<'_>) -> Vec<StaffId> {
    let parts = case.score.parts.iter().enumerate();
    let ids = parts.filter_map(|(at, part)| Some((PartId(u16::try_from(at).ok()?), part)));
    let in_group = |part: PartId| {
        let groups = case.score.groups.iter();
        groups.filter(|group| !group.name.trim().is_empty()).any(|group| group.first <= part && part <= group.last)
    };
    let bare = ids.filter(|(id, part)| part.name.trim().is_empty() && !in_group(*id));
    bare.filter_map(|(id, _)| case.score.staves_of(id).next()).collect()
}
