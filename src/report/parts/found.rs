//! What was found in the parts, numbered through in score order: a finding has one number wherever it is told.

use crate::check::{PartChecked, PartsChecked};
use crate::rules::Finding;

/// One finding.
#[derive(Clone, Copy, Debug)]
pub(super) struct Found<'a> {
    /// Counted from 1.
    pub number: u32,
    pub part: &'a PartChecked,
    pub finding: &'a Finding,
}

/// All findings, part by part.
pub(super) fn all(checked: &PartsChecked) -> Vec<Found<'_>> {
    (0..checked.parts.len()).flat_map(|at| of(checked, at)).collect()
}

/// Those of one part, by its place among the parts.
pub(super) fn of(checked: &PartsChecked, at: usize) -> impl Iterator<Item = Found<'_>> {
    let before: usize = checked.parts.iter().take(at).map(|part| part.findings.len()).sum();
    let own =
        checked.parts.get(at).into_iter().flat_map(|part| part.findings.iter().map(move |finding| (part, finding)));
    (before as u32 + 1..).zip(own).map(|(number, (part, finding))| Found { number, part, finding })
}

impl Found<'_> {
    /// The finding and what to do.
    pub fn said(&self) -> String {
        format!("{} {}", self.finding.message, self.finding.remedy)
    }
}
