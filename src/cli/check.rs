//! `rastrum check`: reads a score, holds it against the guidelines, writes the report.

use std::path::{Path, PathBuf};

use rastrum::check::{Asked, CheckError, Checked, Options, PagesFile, Stage, Watch, check};
use rastrum::read::Input;

use super::args::CheckArgs;
use super::check_outputs::CheckOutputs;
use super::exit::{Failure, Outcome, Trouble};
use super::timings::Stopwatch;
use super::{files, house, measure, remarks, terminal};

pub fn run(args: &CheckArgs) -> Result<Outcome, Failure> {
    let first = args.scores.first().map_or(Path::new("-"), PathBuf::as_path);
    let outputs = CheckOutputs::of(args, first)?;
    outputs.ready()?;
    let mut options = house::options(&args.house, first)?;
    options.asked = Asked::from(&args.pages);
    options.pages = args.printed.as_deref().map(|path| pages_file(path, options.limits.inflated_bytes)).transpose()?;
    options.like = args.like.as_deref().map(measure::find).transpose()?;
    let mut watch = Stopwatch::start();
    let contents = contents(&args.scores, options.limits.inflated_bytes)?;
    let inputs = inputs(&contents);
    let checked = checked(&inputs, &options, &mut watch)?;
    watch.begins(Stage::Reporting);
    // A PDF alone is its own pages.
    let pages = options.pages.as_ref().map(|file| file.bytes.as_slice()).or(inputs.first().map(|input| input.bytes));
    outputs.write(&checked, &inputs, pages)?;
    let timings = watch.stop();
    remarks::tell(&checked);
    if args.timings {
        terminal::tell(&timings);
    }
    outputs.summarise(&checked)?;
    let limit = args.fail_on.weight();
    let fails = checked.findings.iter().any(|finding| finding.weight >= limit);
    Ok(if fails { Outcome::Findings } else { Outcome::Clean })
}

pub fn pages_file(path: &Path, limit: u64) -> Result<PagesFile, Failure> {
    Ok(PagesFile { name: files::name(path), bytes: files::read(path, limit)? })
}

/// Reads the files and checks them as one work.
pub fn work(scores: &[PathBuf], options: &Options, watch: &mut dyn Watch) -> Result<Checked, Failure> {
    checked(&inputs(&contents(scores, options.limits.inflated_bytes)?), options, watch)
}

/// Names and bytes of the files, each of `limit` bytes at the most.
pub fn contents(scores: &[PathBuf], limit: u64) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let mut troubles = Vec::new();
    let mut contents = Vec::new();
    for path in scores {
        match files::read(path, limit) {
            Ok(bytes) => contents.push((files::name(path), bytes)),
            Err(trouble) => troubles.push(trouble),
        }
    }
    Failure::unless_empty(troubles)?;
    Ok(contents)
}

pub fn inputs(contents: &[(String, Vec<u8>)]) -> Vec<Input<'_>> {
    contents.iter().map(|(name, bytes)| Input { name, bytes }).collect()
}

fn checked(inputs: &[Input<'_>], options: &Options, watch: &mut dyn Watch) -> Result<Checked, Failure> {
    check(inputs, options, watch).map_err(|errors| errors.iter().map(trouble).collect::<Vec<_>>().into())
}

pub fn trouble(error: &CheckError) -> Trouble {
    let trouble = Trouble::new(error.to_string());
    match error.hint() {
        Some(hint) => trouble.hint(hint),
        None => trouble,
    }
}
