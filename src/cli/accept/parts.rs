//! Accepting findings of players' parts: all that an entry needs stands in their report, since which findings there are
//! depends on how the parts were bound and set when it was written.

use std::path::Path;

use serde::Deserialize;

use rastrum::accepted::{Entry, Fingerprint};
use rastrum::report::model;
use rastrum::report::parts::model::{PartFinding, VERSION};

use super::super::accepted_file::{self, Of};
use super::super::args::AcceptArgs;
use super::super::exit::{Failure, Outcome};
use super::super::{clock, files};
use super::{broken, no_such_number, say_accepted};

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

#[derive(Deserialize)]
struct Version {
    schema: String,
}

impl PartsReport {
    /// `None` where it is another kind of report.
    pub fn read(path: &Path) -> Result<Option<PartsReport>, Failure> {
        let bytes = files::read(path, super::LARGEST_REPORT)?;
        let version: Version = serde_json::from_slice(&bytes).map_err(|_| broken(path))?;
        if version.schema != VERSION {
            return Ok(None);
        }
        Ok(Some(serde_json::from_slice(&bytes).map_err(|_| broken(path))?))
    }

    fn findings(&self) -> impl Iterator<Item = &PartFinding> {
        self.parts.iter().flat_map(|part| &part.findings)
    }
}

pub fn run(report: &PartsReport, args: &AcceptArgs, who: &str) -> Result<Outcome, Failure> {
    let named = report.input.first().map(|input| args.report.with_file_name(&input.name));
    let score = args.score.clone().or(named).ok_or_else(|| broken(&args.report))?;
    let place = accepted_file::beside(&score, Of::Parts).ok_or_else(|| broken(&args.report))?;
    let mut numbers = args.numbers.clone();
    numbers.sort_unstable();
    numbers.dedup();
    let today = clock::today();
    let (mut entries, mut troubles) = (Vec::new(), Vec::new());
    for number in numbers {
        match report.findings().find(|finding| finding.number as usize == number) {
            Some(finding) => {
                let entry = entry(finding).ok_or_else(|| broken(&args.report))?;
                entries.push(Entry { who: who.to_owned(), when: today.clone(), why: args.why.clone(), ..entry });
            }
            None => troubles.push(no_such_number(number, report.findings().count(), &args.report)),
        }
    }
    Failure::unless_empty(troubles)?;
    let old = accepted_file::read(&score, Of::Parts)?;
    accepted_file::append(&place, old.as_ref(), &entries)?;
    say_accepted(entries.len(), &place)
}

pub(super) fn entry(found: &PartFinding) -> Option<Entry> {
    let PartFinding { music, finding, .. } = found;
    let label = finding.places.first().and_then(|place| place.bar_label.as_deref()).unwrap_or_default();
    Entry::of_key(&finding.key, label, Fingerprint::read(music)?, finding.places.len())
}
