//! What accepting takes from a report of players' parts.

use serde::Deserialize;

use rastrum::accepted::{Entry, Fingerprint};
use rastrum::report::model;
use rastrum::report::parts::model::PartFinding;

use super::super::accepted_file::Of;
use super::written::Written;

/// What accepting needs of a report of parts.
#[derive(Debug, Deserialize)]
pub struct PartsReport {
    input: Vec<model::Input>,
    parts: Vec<Part>,
}

#[derive(Debug, Deserialize)]
struct Part {
    findings: Vec<PartFinding>,
}

impl PartsReport {
    pub fn written(self) -> Written {
        let findings = self.parts.iter().flat_map(|part| &part.findings);
        Written { of: Of::Parts, entries: findings.map(numbered).collect(), input: self.input }
    }
}

/// A finding's number and entry.
pub(super) fn numbered(found: &PartFinding) -> (usize, Option<Entry>) {
    let PartFinding { music, finding, .. } = found;
    let label = finding.places.first().and_then(|place| place.bar_label.as_deref()).unwrap_or_default();
    let entry =
        Fingerprint::read(music).and_then(|print| Entry::of_key(&finding.key, label, print, finding.places.len()));
    (found.number as usize, entry)
}
