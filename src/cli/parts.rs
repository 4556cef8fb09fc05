//! `rastrum parts`: draws the players' parts from a score, lays them out, writes the report.

use std::path::{Path, PathBuf};

use rastrum::check::{PagesFile, PartsChecked, PartsListFile, PartsOptions, Stage, Watch, parts};
use rastrum::limits::Limits;
use rastrum::rules::Weight;

use super::args::PartsArgs;
use super::check::{self, contents, inputs, trouble};
use super::exit::{Failure, Outcome, Trouble};
use super::parts_outputs::PartsOutputs;
use super::timings::Stopwatch;
use super::{accepted_file, files, house, measure, terminal};

/// A parts list has a few kilobytes; this is none.
const LARGEST_LIST: u64 = 1 << 20;

pub fn run(args: &PartsArgs) -> Result<Outcome, Failure> {
    let first = args.files.first().map_or(Path::new("-"), PathBuf::as_path);
    let outputs = PartsOutputs::of(args, first);
    outputs.ready()?;
    let options = options(args, first)?;
    let mut watch = Stopwatch::start();
    let contents = contents(&args.files, options.limits.inflated_bytes)?;
    let inputs = inputs(&contents);
    let checked = parts(&inputs, &options, &mut watch)
        .map_err(|errors| Failure::from(errors.iter().map(trouble).collect::<Vec<_>>()))?;
    watch.begins(Stage::Reporting);
    outputs.write(&inputs, &checked)?;
    let timings = watch.stop();
    if args.timings {
        terminal::tell(&timings);
    }
    outputs.summarise(&checked)?;
    Failure::unless_empty(checked.set_aside.iter().map(|aside| Trouble::new(aside.to_string())).collect())?;
    Ok(if fails(&checked, args.fail_on.weight()) { Outcome::Findings } else { Outcome::Clean })
}

fn options(args: &PartsArgs, first: &Path) -> Result<PartsOptions, Failure> {
    let list = args.list.as_deref().map(list).transpose()?;
    let stand = &args.stand;
    Ok(PartsOptions {
        guidelines: house::options(&args.house, first)?.guidelines,
        list,
        only: args.part.clone(),
        bound: stand.bound.into(),
        starts: stand.starts.map(Into::into),
        paper: stand.paper.clone(),
        margins: stand.margins,
        staff_height: stand.staff,
        like: args.like.as_deref().map(measure::find).transpose()?,
        accepted: accepted_file::read(first, accepted_file::Of::Parts)?,
        pages: pages(&args.printed)?,
        ..PartsOptions::default()
    })
}

/// Printed pages of parts, by name.
fn pages(printed: &[(String, PathBuf)]) -> Result<Vec<(String, PagesFile)>, Failure> {
    let limit = Limits::default().inflated_bytes;
    printed.iter().map(|(part, path)| Ok((part.clone(), check::pages_file(path, limit)?))).collect()
}

pub fn list(path: &Path) -> Result<PartsListFile, Trouble> {
    let text = String::from_utf8(files::read(path, LARGEST_LIST)?)
        .map_err(|_| Trouble::new(format!("{}: is not text", path.display())).hint("save it as UTF-8"))?;
    Ok(PartsListFile { name: files::name(path), text })
}

fn fails(checked: &PartsChecked, limit: Weight) -> bool {
    checked.parts.iter().flat_map(|part| &part.findings).any(|finding| finding.weight >= limit)
}
