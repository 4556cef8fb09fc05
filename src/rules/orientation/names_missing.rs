//! Staves without names.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{PageIdx, PartId, Place, StaffId};
use crate::rules::places::counted;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Names on the first system, short names on all later ones.
pub(in crate::rules) struct NamesMissing {
    weight: Weight,
}

impl Rule for NamesMissing {
    const NAME: &'static str = "names-missing";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(NamesMissing { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.is_part() {
            return Outcome::Ran(Vec::new());
        }
        let nameless = nameless(case);
        let (message, places, found) = match (nameless.as_slice(), case.layout.told.names_on_later_systems) {
            ([], Some(true)) => return Outcome::Ran(Vec::new()),
            ([], None) => return Outcome::CouldNotRun("names as printed on later systems".to_owned()),
            ([], Some(false)) => {
                let Some((page, at, system)) = case.layout.systems().nth(1) else { return Outcome::Ran(Vec::new()) };
                let message = "After the first system no staff bears a name.".to_owned();
                (message, vec![case.on_system(page, at, system)], "no short names".to_owned())
            }
            (staves, _) => {
                let message = format!("{} on the first system without a name.", counted_staves(staves.len()));
                let place = Place { staves: staves.to_vec(), ..case.on_page(PageIdx(0)) };
                (message, vec![place], counted_staves(staves.len()))
            }
        };
        let key = case.key(Self::NAME, Scope::Work, nameless.first().copied(), None);
        let finding = Finding::unlimited(self.weight, key, found).asks("full names first, short names after");
        Outcome::Ran(vec![finding.at(places).says(message)])
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
