//! `rastrum accept`: lets findings stand, with a reason, until their music changes.

use std::path::{Path, PathBuf};

use serde::Deserialize;
use serde::de::DeserializeOwned;

use rastrum::accepted::{self, Entry};
use rastrum::check::{Checked, Options};
use rastrum::report::{self, model};

use super::accepted_file::Of;
use super::args::AcceptArgs;
use super::exit::{Failure, Outcome, Trouble};
use super::timings::Stopwatch;
use super::{accepted_file, check, clock, files, house, terminal};

mod parts;
mod proof;
mod written;

use parts::PartsReport;
use proof::ProofReport;

/// Larger reports there are none.
const LARGEST_REPORT: u64 = 1 << 30;

/// Which kind of report it is.
#[derive(Deserialize)]
struct Version {
    schema: String,
}

/// What accepting needs of a report of `check`.
#[derive(Debug, Deserialize)]
struct Report {
    input: Vec<model::Input>,
    findings: Vec<model::Finding>,
}

pub fn run(args: &AcceptArgs) -> Result<Outcome, Failure> {
    let who = who(args)?;
    let bytes = files::read(&args.report, LARGEST_REPORT)?;
    let version: Version = parsed(&bytes, args)?;
    match version.schema.as_str() {
        model::VERSION => of_check(&parsed(&bytes, args)?, args, &who),
        report::parts::model::VERSION => written::run(&parsed::<PartsReport>(&bytes, args)?.written(), args, &who),
        report::proof::model::VERSION => written::run(&parsed::<ProofReport>(&bytes, args)?.written(), args, &who),
        _ => Err(broken(&args.report).into()),
    }
}

fn parsed<T: DeserializeOwned>(bytes: &[u8], args: &AcceptArgs) -> Result<T, Trouble> {
    serde_json::from_slice(bytes).map_err(|_| broken(&args.report))
}

fn of_check(report: &Report, args: &AcceptArgs, who: &str) -> Result<Outcome, Failure> {
    let wanted = report.numbered(args)?;
    let scores = report.scores(args)?;
    let first = scores.first().ok_or_else(|| broken(&args.report))?;
    let place = accepted_file::beside(first, Of::Score).ok_or_else(|| broken(&args.report))?;
    let options = house::options(&args.house, first)?;
    let checked = check::work(&scores, &options, &mut Stopwatch::start())?;
    let entries = entries(&wanted, &checked, who, args)?;
    append(&place, &options, &entries)?;
    say_accepted(entries.len(), &place)
}

fn say_accepted(entries: usize, place: &Path) -> Result<Outcome, Failure> {
    let count = if entries == 1 { "1 finding is".to_owned() } else { format!("{entries} findings are") };
    let returns = if entries == 1 { "it comes back when its" } else { "they come back when their" };
    terminal::say(&format!("{count} accepted in {}; {returns} music changes.\n", place.display()))
}

/// A report's finding by its number.
struct Wanted<'a> {
    number: usize,
    finding: &'a model::Finding,
}

impl Report {
    fn numbered(&self, args: &AcceptArgs) -> Result<Vec<Wanted<'_>>, Failure> {
        let mut numbers = args.numbers.clone();
        numbers.sort_unstable();
        numbers.dedup();
        let mut troubles = Vec::new();
        let mut wanted = Vec::new();
        for number in numbers {
            match number.checked_sub(1).and_then(|at| self.findings.get(at)) {
                Some(finding) => wanted.push(Wanted { number, finding }),
                None => troubles.push(no_such_number(number, self.findings.len(), &args.report)),
            }
        }
        Failure::unless_empty(troubles)?;
        Ok(wanted)
    }

    /// The score's files, beside the report or beside `--score`.
    fn scores(&self, args: &AcceptArgs) -> Result<Vec<PathBuf>, Failure> {
        let first = args.score.as_deref();
        let beside = first.unwrap_or(&args.report);
        let mut troubles = Vec::new();
        let mut scores = Vec::new();
        for (at, input) in self.input.iter().enumerate() {
            let path = match (at, first) {
                (0, Some(score)) => score.to_owned(),
                _ => beside.with_file_name(Path::new(&input.name).file_name().unwrap_or_default()),
            };
            if path.is_file() {
                scores.push(path);
            } else {
                let hint = "name the (first) score file with --score; further movements must stand beside it";
                troubles.push(Trouble::new(format!("{}: is not there", path.display())).hint(hint));
            }
        }
        Failure::unless_empty(troubles)?;
        Ok(scores)
    }
}

fn no_such_number(number: usize, findings: usize, path: &Path) -> Trouble {
    let trouble = Trouble::new(format!("{}: has no finding number {number}", path.display()));
    match findings {
        0 => trouble.hint("it has no findings at all"),
        1 => trouble.hint("its only finding is number 1"),
        many => trouble.hint(format!("its findings are numbered from 1 to {many}")),
    }
}

/// The findings as the score makes them today: a report may be older than its score.
fn entries(wanted: &[Wanted<'_>], checked: &Checked, who: &str, args: &AcceptArgs) -> Result<Vec<Entry>, Failure> {
    let today = clock::today();
    let mut troubles = Vec::new();
    let mut entries = Vec::new();
    for Wanted { number, finding } in wanted {
        match checked.findings.iter().find(|made| made.key.to_string() == finding.key) {
            Some(made) => entries.push(accepted::entry(made, &checked.score, who, &today, &args.why)),
            None => {
                let what = format!("{}: finding {number} is not made any more", args.report.display());
                let hint = "check the score again; give accept the same --for, --set and --print-on as the check";
                troubles.push(Trouble::new(what).hint(hint));
            }
        }
    }
    Failure::unless_empty(troubles)?;
    Ok(entries)
}

fn append(place: &Path, options: &Options, entries: &[Entry]) -> Result<(), Failure> {
    accepted_file::append(place, options.accepted.as_ref(), entries)
}

/// Whoever accepts a finding stands by it with a name and a reason.
fn who(args: &AcceptArgs) -> Result<String, Failure> {
    let logged_in = || ["USER", "USERNAME"].into_iter().find_map(|name| std::env::var(name).ok());
    let who = args.by.clone().or_else(logged_in).unwrap_or_default();
    let mut troubles = Vec::new();
    if who.trim().is_empty() {
        troubles.push(Trouble::new("nobody is named who accepts this").hint("say who you are with --by"));
    }
    if args.why.trim().is_empty() {
        troubles.push(Trouble::new("--why is empty").hint("say in a few words why this may stay"));
    }
    Failure::unless_empty(troubles)?;
    Ok(who)
}

fn broken(path: &Path) -> Trouble {
    let hint = "write it anew with rastrum check SCORE --json REPORT.json";
    Trouble::new(format!("{}: is not a report that this rastrum wrote", path.display())).hint(hint)
}
