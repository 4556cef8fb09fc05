//! `rastrum proof`: holds parts against their score, writes the report.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use rastrum::check::{self, PartsOptions, ProofOptions, Proofed, Stage, Verdict, Watch};
use rastrum::limits::Limits;
use rastrum::report;
use rastrum::rules::Weight;

use super::args::ProofArgs;
use super::check::{contents, inputs, pages_file, trouble};
use super::exit::{Failure, Outcome, Trouble};
use super::files::{self, plain};
use super::outputs::{Outputs, Written};
use super::timings::Stopwatch;
use super::{accepted_file, house, parts, terminal};

pub fn run(args: &ProofArgs) -> Result<Outcome, Failure> {
    let first = args.files.first().map_or(Path::new("-"), PathBuf::as_path);
    let outputs = Outputs::of(args.report.as_deref(), args.json.as_deref(), first, "proof");
    outputs.ready([])?;
    let options = options(args, first)?;
    let paths = in_folders(&args.files)?;
    let mut watch = Stopwatch::start();
    let contents = contents(&paths, options.parts.limits.inflated_bytes)?;
    let proofed = check::proof(&inputs(&contents), &options, &mut watch)
        .map_err(|errors| Failure::from(errors.iter().map(trouble).collect::<Vec<_>>()))?;
    watch.begins(Stage::Reporting);
    let pdf = || report::proof::pdf(&proofed);
    let json = |out: &mut dyn Write| report::proof::json(&proofed, out);
    outputs.write(&Written { pdf: &pdf, json: &json }, Vec::new())?;
    let timings = watch.stop();
    if args.timings {
        terminal::tell(&timings);
    }
    outputs.summarise(&json, |look| report::proof::terminal(&proofed, look, args.full, &outputs.names()))?;
    Failure::unless_empty(proofed.set_aside.iter().map(|aside| Trouble::new(aside.to_string())).collect())?;
    Ok(if fails(&proofed, args.fail_on.weight()) { Outcome::Findings } else { Outcome::Clean })
}

fn options(args: &ProofArgs, first: &Path) -> Result<ProofOptions, Failure> {
    let map = args.map.iter().map(|(file, part)| (files::name(Path::new(file)), part.clone()));
    let (mut of_score, mut of_parts) = (Vec::new(), Vec::new());
    for (part, path) in &args.printed {
        let file = pages_file(path, Limits::default().inflated_bytes)?;
        match part {
            Some(part) => of_parts.push((part.clone(), file)),
            None => of_score.push(file),
        }
    }
    Ok(ProofOptions {
        parts: PartsOptions {
            guidelines: house::options(&args.house, first)?.guidelines,
            list: args.list.as_deref().map(parts::list).transpose()?,
            only: args.part.clone(),
            bound: args.bound.into(),
            starts: args.starts.map(Into::into),
            accepted: accepted_file::read(first, accepted_file::Of::Parts)?,
            pages: of_parts,
            ..PartsOptions::default()
        },
        map: map.collect(),
        pages: of_score,
        accepted: accepted_file::read(first, accepted_file::Of::Proof)?,
    })
}

/// Files as they are, and the music in each folder, in order of names.
pub fn in_folders(paths: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let mut all = Vec::new();
    let mut troubles = Vec::new();
    for path in paths {
        if !path.is_dir() {
            all.push(path.clone());
            continue;
        }
        match music_in(path) {
            Ok(files) if files.is_empty() => {
                let hint = "parts are .mxl, .musicxml or .xml files";
                troubles.push(Trouble::new(format!("{}: no music in this folder", path.display())).hint(hint));
            }
            Ok(files) => all.extend(files),
            Err(error) => {
                troubles.push(Trouble::new(format!("{}: cannot be read: {}", path.display(), plain(&error))));
            }
        }
    }
    Failure::unless_empty(troubles)?;
    Ok(all)
}

pub fn music_in(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        if path.is_file() && ending.is_some_and(|ending| ["mxl", "musicxml", "xml"].contains(&ending.as_str())) {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

fn fails(proofed: &Proofed, limit: Weight) -> bool {
    let alone = proofed.alone.iter().flatten().any(|finding| finding.weight >= limit);
    let missing = proofed.printed.iter().any(|own| !own.fit.missing.is_empty());
    alone
        || missing
        || proofed.parts.iter().any(|part| {
            let differs = part.files.iter().flat_map(|file| &file.proof.differences).any(|own| own.weight() >= limit);
            let pages = part.sheet.iter().flat_map(|sheet| &sheet.findings).any(|finding| finding.weight >= limit);
            let absent = part.verdict == Verdict::NotThere || !part.not_there.is_empty();
            differs || pages || absent
        })
}
