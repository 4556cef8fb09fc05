//! Accepting from reports in which all that an entry needs stands, since which findings there are depends on what was
//! beside the score when they were written.

use std::collections::BTreeMap;

use rastrum::accepted::Entry;
use rastrum::report::model;

use super::super::accepted_file::{self, Of};
use super::super::args::AcceptArgs;
use super::super::clock;
use super::super::exit::{Failure, Outcome};
use super::{broken, no_such_number, say_accepted};

/// What a report holds of that.
pub struct Written {
    pub of: Of,
    pub input: Vec<model::Input>,
    /// By number, without who, when and why; `None` where the report has been tampered with.
    pub entries: BTreeMap<usize, Option<Entry>>,
}

pub fn run(report: &Written, args: &AcceptArgs, who: &str) -> Result<Outcome, Failure> {
    let named = report.input.first().map(|input| args.report.with_file_name(&input.name));
    let score = args.score.clone().or(named).ok_or_else(|| broken(&args.report))?;
    let place = accepted_file::beside(&score, report.of).ok_or_else(|| broken(&args.report))?;
    let mut numbers = args.numbers.clone();
    numbers.sort_unstable();
    numbers.dedup();
    let today = clock::today();
    let (mut entries, mut troubles) = (Vec::new(), Vec::new());
    for number in numbers {
        match report.entries.get(&number) {
            Some(entry) => {
                let entry = entry.clone().ok_or_else(|| broken(&args.report))?;
                entries.push(Entry { who: who.to_owned(), when: today.clone(), why: args.why.clone(), ..entry });
            }
            None => troubles.push(no_such_number(number, report.entries.len(), &args.report)),
        }
    }
    Failure::unless_empty(troubles)?;
    let old = accepted_file::read(&score, report.of)?;
    accepted_file::append(&place, old.as_ref(), &entries)?;
    say_accepted(entries.len(), &place)
}
