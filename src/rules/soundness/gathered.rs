//! One fault at many places as one finding.

use crate::guidelines::Weight;
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::rules::{Case, Finding, Scope};
use crate::words::listed;

/// A staff and a bar of it.
pub(super) type At = (StaffId, BarIdx);

impl Case<'_> {
    /// "Ties that lead to no note: Oboe 1, bar 12, and Horn, bar 40."; `None` where there is no place.
    pub(super) fn gathered(
        &self,
        rule: &'static str,
        weight: Weight,
        at: &[At],
        what: &str,
        limit: &str,
    ) -> Option<Finding> {
        let (staff, bar) = *at.first()?;
        let told =
            listed(at.iter().map(|(staff, bar)| format!("{} in {}", self.staff_words(*staff), self.bar_words(*bar))));
        let key = self.key(rule, Scope::Bar, Some(staff), Some(bar));
        let places = at.iter().map(|(staff, bar)| self.on_bars(BarSpan::one(*bar), &[*staff])).collect();
        let found = crate::words::counted(at.len(), "place");
        Some(Finding::unlimited(weight, key, found).asks(limit).at(places).says(format!("{what}: {told}.")))
    }

    /// All staves from the top.
    pub(super) fn all_staves(&self) -> impl Iterator<Item = StaffId> + use<> {
        (0..self.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId)
    }

    /// Every staff with the bars of every movement.
    pub(super) fn staves_by_movement(&self) -> impl Iterator<Item = (StaffId, BarSpan)> {
        let movements = self.score.movements.iter().map(|movement| movement.bars);
        movements.flat_map(|bars| self.all_staves().map(move |staff| (staff, bars)))
    }
}
