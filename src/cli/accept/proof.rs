//! What accepting takes from a report of differences between score and parts.

use serde::Deserialize;

use rastrum::accepted::{Entry, Fingerprint};
use rastrum::report::model;
use rastrum::report::proof::model::{Difference, Proof};

use super::super::accepted_file::Of;
use super::parts;
use super::written::Written;

/// What accepting needs of a proof.
#[derive(Debug, Deserialize)]
pub struct ProofReport {
    input: Vec<model::Input>,
    proof: Proof,
}

impl ProofReport {
    pub fn written(self) -> Written {
        let differences = self.proof.parts.iter().flat_map(|part| &part.differences).map(numbered);
        // What was found in the score, where it was looked at alone.
        let of_score = self.proof.score.iter().flatten().map(parts::numbered);
        Written { of: Of::Proof, entries: differences.chain(of_score).collect(), input: self.input }
    }
}

fn numbered(own: &Difference) -> (usize, Option<Entry>) {
    let entry = Fingerprint::read(&own.music).and_then(|print| Entry::of_key(&own.key, &own.bar_label, print, 1));
    (own.number, entry)
}
