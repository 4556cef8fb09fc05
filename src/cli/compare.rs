//! `rastrum compare`: holds drafts against each other, writes the report.

use std::io::Write;
use std::path::{Path, PathBuf};

use rastrum::check::{self, Asked, DraftFiles, DraftsOptions, PagesFile, PartsOptions, Stage, Watch};
use rastrum::limits::Limits;
use rastrum::report;

use super::args::CompareArgs;
use super::check::{contents, inputs, pages_file, trouble};
use super::exit::{Failure, Outcome, Trouble};
use super::files::{self, plain};
use super::outputs::{Outputs, Written};
use super::timings::Stopwatch;
use super::{accepted_file, house, parts, proof, terminal};

pub fn run(args: &CompareArgs) -> Result<Outcome, Failure> {
    let drafts = in_folders(&args.drafts)?;
    let beside = parts_beside(args, drafts.len())?;
    let newest = args.drafts.last().map_or(Path::new("-"), PathBuf::as_path);
    let outputs = Outputs::of(args.report.as_deref(), args.json.as_deref(), newest, "compare");
    outputs.ready([])?;
    let options = options(args)?;
    let mut watch = Stopwatch::start();
    let read = |files: &[PathBuf]| contents(files, options.limits.inflated_bytes);
    let contents = drafts.iter().map(|draft| read(&draft.files)).collect::<Result<Vec<_>, Failure>>()?;
    let beside = beside.iter().map(|files| read(files)).collect::<Result<Vec<_>, Failure>>()?;
    let mut given = Vec::new();
    for (at, (draft, (contents, beside))) in drafts.iter().zip(contents.iter().zip(&beside)).enumerate() {
        let pages = match at {
            0 => args.old_pages.as_slice(),
            _ if at + 1 == drafts.len() => args.new_pages.as_slice(),
            _ => &[],
        };
        given.push(DraftFiles { parts: inputs(beside), ..draft.given(inputs(contents), pages)? });
    }
    let compared = check::drafts(&given, &options, &mut watch)
        .map_err(|errors| Failure::from(errors.iter().map(trouble).collect::<Vec<_>>()))?;
    watch.begins(Stage::Reporting);
    let pdf = || report::drafts::pdf(&compared);
    let json = |out: &mut dyn Write| report::drafts::json(&compared, out);
    outputs.write(&Written { pdf: &pdf, json: &json }, Vec::new())?;
    let timings = watch.stop();
    if args.timings {
        terminal::tell(&timings);
    }
    outputs.summarise(&json, |look| report::drafts::terminal(&compared, look, args.full, &outputs.names()))?;
    let mut troubles = Vec::new();
    for draft in &compared.drafts {
        let aside = draft.parts.iter().flat_map(|parts| &parts.set_aside);
        troubles.extend(aside.map(|aside| Trouble::new(format!("{}: {aside}", draft.name))));
    }
    Failure::unless_empty(troubles)?;
    Ok(if compared.is_worse(args.fail_on.weight()) { Outcome::Findings } else { Outcome::Clean })
}

fn options(args: &CompareArgs) -> Result<DraftsOptions, Failure> {
    let own = house::options(&args.house, Path::new("-"))?;
    Ok(DraftsOptions {
        guidelines: own.guidelines.clone(),
        print_on: own.print_on,
        asked: Asked::from(&args.pages),
        parts: PartsOptions {
            guidelines: own.guidelines,
            list: args.list.as_deref().map(parts::list).transpose()?,
            bound: args.bound.into(),
            starts: args.starts.map(Into::into),
            ..PartsOptions::default()
        },
        keep_pages: args.keep_pages,
        limits: own.limits,
    })
}

/// Files of parts that are named beside each draft.
fn parts_beside(args: &CompareArgs, drafts: usize) -> Result<Vec<Vec<PathBuf>>, Failure> {
    let mut parts = vec![Vec::new(); drafts];
    if let Some(first) = parts.first_mut() {
        *first = proof::in_folders(&args.old_parts)?;
    }
    if let Some(last) = parts.last_mut() {
        last.extend(proof::in_folders(&args.new_parts)?);
    }
    Ok(parts)
}

/// One draft on disk.
struct OnDisk {
    /// As it was named.
    path: PathBuf,
    files: Vec<PathBuf>,
}

/// Drafts as they are named; of a folder, the music in it.
fn in_folders(drafts: &[PathBuf]) -> Result<Vec<OnDisk>, Failure> {
    let mut all = Vec::new();
    let mut troubles = Vec::new();
    for path in drafts {
        if !path.is_dir() {
            all.push(OnDisk { path: path.clone(), files: vec![path.clone()] });
            continue;
        }
        match proof::music_in(path) {
            Ok(files) if files.is_empty() => {
                let hint = "a draft is a score, or a folder with its movements as .mxl, .musicxml or .xml files";
                troubles.push(Trouble::new(format!("{}: no music in this folder", path.display())).hint(hint));
            }
            Ok(files) => all.push(OnDisk { path: path.clone(), files }),
            Err(error) => {
                troubles.push(Trouble::new(format!("{}: cannot be read: {}", path.display(), plain(&error))));
            }
        }
    }
    if all.iter().filter(|draft| draft.path.as_os_str() == "-").count() > 1 {
        troubles.push(Trouble::new("-: standard input can be one draft only").hint("name a file for the other"));
    }
    Failure::unless_empty(troubles)?;
    Ok(all)
}

impl OnDisk {
    fn given<'a>(
        &self,
        inputs: Vec<rastrum::read::Input<'a>>,
        pages: &[(Option<String>, PathBuf)],
    ) -> Result<DraftFiles<'a>, Failure> {
        let first = self.files.first().map_or(Path::new("-"), PathBuf::as_path);
        let mut given = DraftFiles {
            name: files::name(&self.path),
            inputs,
            accepted: accepted_file::read(first, accepted_file::Of::Score)?,
            accepted_of_parts: accepted_file::read(first, accepted_file::Of::Parts)?,
            ..DraftFiles::default()
        };
        for (part, path) in pages {
            let file: PagesFile = pages_file(path, Limits::default().inflated_bytes)?;
            match part {
                Some(part) => given.part_pages.push((part.clone(), file)),
                None if given.pages.is_some() => {
                    let hint = "pages of a part are named as in \"Violin 1=violin-1.pdf\"";
                    return Err(Trouble::new(format!("{}: a second PDF of one score", file.name)).hint(hint).into());
                }
                None => given.pages = Some(file),
            }
        }
        Ok(given)
    }
}
