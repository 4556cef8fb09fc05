//! Keyboards and harps with one hand left out.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::layout::System;
use crate::place::{BarIdx, PageIdx, PartId, Place, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::Family;

/// Both hands are shown, or neither.
pub(in crate::rules) struct OneHandHidden {
    weight: Weight,
}

impl Rule for OneHandHidden {
    const NAME: &'static str = "one-hand-hidden";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(OneHandHidden { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.told_systems().next().is_none() {
            return Outcome::CouldNotRun("recorded systems".to_owned());
        }
        let parts = case.score.parts.iter().enumerate();
        let keyboards = parts.filter(|(_, part)| part.family == Family::Keyboard);
        let hands = keyboards.filter_map(|(at, _)| {
            let part = PartId(u16::try_from(at).ok()?);
            let staves: Vec<StaffId> = case.score.staves_of(part).collect();
            (staves.len() == 2).then_some(staves)
        });
        Outcome::Ran(hands.filter_map(|hands| self.of_one_player(case, &hands)).collect())
    }
}

impl OneHandHidden {
    fn of_one_player(&self, case: &Case<'_>, hands: &[StaffId]) -> Option<Finding> {
        let alone = |(page, at, system): (PageIdx, u16, &System)| alone(case, hands, page, at, system);
        let places: Vec<(BarIdx, Place)> = case.told_systems().filter_map(alone).collect();
        let (bar, first) = places.first()?;
        let name = case.score.part_of(*hands.first()?)?.name.clone();
        let on_page = first.page.map_or_else(String::new, |page| format!("{}: ", case.page_words(page)));
        let more = if places.len() > 1 { format!(" The same on {} systems.", places.len()) } else { String::new() };
        let message = format!("{on_page}one staff of {name} is shown without the other.{more}");
        let key = case.key(Self::NAME, Scope::System, hands.first().copied(), Some(*bar));
        let finding = Finding::unlimited(self.weight, key, "one staff").asks("both staves, or neither");
        Some(finding.at(places.into_iter().map(|(_, place)| place).collect()).says(message))
    }
}

/// The place of the hand that stands alone, if one does.
fn alone(case: &Case<'_>, hands: &[StaffId], page: PageIdx, at: u16, system: &System) -> Option<(BarIdx, Place)> {
    let shown: Vec<StaffId> =
        system.staves.iter().filter_map(|staff| staff.staff).filter(|id| hands.contains(id)).collect();
    (shown.len() == 1).then(|| Some((system.span()?.first, case.on_staves(page, at, system, &shown))))?
}
