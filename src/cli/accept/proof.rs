//! Accepting differences between score and parts: all that an entry needs stands in their report.

use std::path::Path;

use serde::Deserialize;

use rastrum::accepted::{Entry, Fingerprint};
use rastrum::report::model;
use rastrum::report::parts::model::PartFinding;
use rastrum::report::proof::model::{Difference, Proof, VERSION};

use super::super::accepted_file::{self, Of};
use super::super::args::AcceptArgs;
use super::super::exit::{Failure, Outcome};
use super::super::{clock, files};
use super::{broken, no_such_number, parts, say_accepted};

/// What accepting needs of a proof.
#[derive(Debug, Deserialize)]
pub struct ProofReport {
    input: Vec<model::Input>,
    proof: Proof,
}

#[derive(Deserialize)]
struct Version {
    schema: String,
}

impl ProofReport {
    /// `None` where it is another kind of report.
    pub fn read(path: &Path) -> Result<Option<ProofReport>, Failure> {
        let bytes = files::read(path, super::LARGEST_REPORT)?;
        let version: Version = serde_json::from_slice(&bytes).map_err(|_| broken(path))?;
        if version.schema != VERSION {
            return Ok(None);
        }
        Ok(Some(serde_json::from_slice(&bytes).map_err(|_| broken(path))?))
    }

    /// What was found in the score, where it was looked at alone.
    fn findings(&self) -> impl Iterator<Item = &PartFinding> {
        self.proof.score.iter().flatten()
    }

    /// The entry of a number, without who, when and why; `None` where the report has no such number.
    fn entry(&self, number: usize, path: &Path) -> Result<Option<Entry>, Failure> {
        let own = self.differences().find(|own| own.number == number).map(|own| {
            let print = Fingerprint::read(&own.music)?;
            Entry::of_key(&own.key, &own.bar_label, print, 1)
        });
        let of_score = || self.findings().find(|own| own.number as usize == number).map(parts::entry);
        match own.or_else(of_score) {
            None => Ok(None),
            Some(None) => Err(broken(path).into()),
            Some(entry) => Ok(entry),
        }
    }

    fn differences(&self) -> impl Iterator<Item = &Difference> {
        self.proof.parts.iter().flat_map(|part| &part.differences)
    }
}

pub fn run(report: &ProofReport, args: &AcceptArgs, who: &str) -> Result<Outcome, Failure> {
    let named = report.input.first().map(|input| args.report.with_file_name(&input.name));
    let score = args.score.clone().or(named).ok_or_else(|| broken(&args.report))?;
    let place = accepted_file::beside(&score, Of::Proof).ok_or_else(|| broken(&args.report))?;
    let mut numbers = args.numbers.clone();
    numbers.sort_unstable();
    numbers.dedup();
    let today = clock::today();
    let (mut entries, mut troubles) = (Vec::new(), Vec::new());
    for number in numbers {
        match report.entry(number, &args.report)? {
            Some(entry) => {
                entries.push(Entry { who: who.to_owned(), when: today.clone(), why: args.why.clone(), ..entry });
            }
            None => {
                let all = report.differences().count() + report.findings().count();
                troubles.push(no_such_number(number, all, &args.report));
            }
        }
    }
    Failure::unless_empty(troubles)?;
    let old = accepted_file::read(&score, Of::Proof)?;
    accepted_file::append(&place, old.as_ref(), &entries)?;
    say_accepted(entries.len(), &place)
}
