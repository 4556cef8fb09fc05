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
    let found = checked.parts.iter().flat_map(|part| part.findings.iter().map(move |finding| (part, finding)));
    (1..).zip(found).map(|(number, (part, finding))| Found { number, part, finding }).collect()
}

impl Found<'_> {
    /// The finding and what to do.
    pub fn said(&self) -> String {
        format!("{} {}", self.finding.message, self.finding.remedy)
    }

    /// It is a part of this player.
    pub fn is_of(&self, part: &PartChecked) -> bool {
        std::ptr::eq(self.part, part)
    }
}
