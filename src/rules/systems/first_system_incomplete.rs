//! First systems that leave out staves.

use std::collections::BTreeSet;

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::layout::System;
use crate::place::{BarSpan, PageIdx, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::survey::Instrument;
use crate::words::{counted, listed};

/// The first system of a movement shows every staff that the movement ever shows.
pub(in crate::rules) struct FirstSystemIncomplete {
    weight: Weight,
}

impl Rule for FirstSystemIncomplete {
    const NAME: &'static str = "first-system-incomplete";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(FirstSystemIncomplete { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.told_systems().next().is_none() {
            return Outcome::CouldNotRun("recorded systems".to_owned());
        }
        let movements = case.score.movements.iter().map(|movement| movement.bars);
        let short: Vec<_> = movements.filter_map(|bars| missing(case, bars)).collect();
        let Some((_, _, first, staves)) = short.first() else { return Outcome::Ran(Vec::new()) };
        let names = listed(staves.iter().map(|staff| case.staff_words(*staff)));
        let message = match short.len() {
            1 => format!("The first system leaves out {names}."),
            several => format!(
                "The first systems of {} leave out staves; the first of them {names}.",
                counted(several, "movement")
            ),
        };
        let key = case.key(Self::NAME, Scope::System, None, first.span().map(|bars| bars.first));
        let finding = Finding::unlimited(
            self.weight,
            key,
            format!("{} left out", counted(staves.len(), "staff").replace("staffs", "staves")),
        )
        .asks("all staves")
        .at(short.iter().map(|(page, at, system, _)| case.on_system(*page, *at, system)).collect())
        .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// The first system of a movement with the staves that are shown later only.
fn missing<'a>(case: &Case<'a>, movement: BarSpan) -> Option<(PageIdx, u16, &'a System, Vec<StaffId>)> {
    let starts_in = |system: &System| system.span().is_some_and(|bars| movement.contains(bars.first));
    let shown = |system: &System| system.staves.iter().filter_map(|staff| staff.staff).collect::<BTreeSet<StaffId>>();
    let mut own = case.told_systems().filter(|(_, _, system)| starts_in(system));
    let (page, at, first) = own.next()?;
    let at_first = shown(first);
    let later: BTreeSet<StaffId> = own.flat_map(|(_, _, system)| shown(system)).collect();
    let missing = later.difference(&at_first).copied().filter(|staff| !is_division(case, *staff, &at_first));
    let missing: Vec<StaffId> = missing.collect();
    (!missing.is_empty()).then_some((page, at, first, missing))
}

/// One more staff for strings that divide later: their section is shown already.
fn is_division(case: &Case<'_>, staff: StaffId, shown: &BTreeSet<StaffId>) -> bool {
    let Some(own) = case.score.staves.get(staff.at()).map(|staff| staff.part) else { return false };
    let strings =
        [Instrument::ViolinI, Instrument::ViolinII, Instrument::Viola, Instrument::Cello, Instrument::DoubleBass];
    let sections = case.survey.forces.players.iter().filter(|entry| strings.contains(&entry.instrument));
    let shown_parts = || shown.iter().filter_map(|staff| case.score.staves.get(staff.at())).map(|staff| staff.part);
    sections
        .filter(|entry| entry.parts.contains(&own))
        .any(|entry| shown_parts().any(|part| entry.parts.contains(&part)))
}
