//! `rastrum demo`: an example score with parts, printed pages and a second draft, invented for the purpose; its check, the
//! proof of its parts, and what became of the draft.

use std::fs;
use std::path::{Path, PathBuf};

use super::args::{CheckArgs, CompareArgs, DemoArgs, PagesArgs, ProofArgs};
use super::exit::{Failure, Outcome, Trouble};
use super::files::{self as on_disk, Output, Target, plain};
use super::{check, compare, proof, terminal};

mod files;

use files::{MOVEMENTS, PARTS, PRINTED, SECOND_DRAFT};

/// Writes score, pages and parts into the folder, checks the score and the pages, proofs the parts, and compares the drafts. What it finds is what the example is
/// there to show: it is no reason to end with an exit code of 1.
pub fn run(args: &DemoArgs) -> Result<Outcome, Failure> {
    let parts = args.folder.join("parts");
    fs::create_dir_all(&parts).map_err(|error| cannot_make(&parts, &error))?;
    let own = |(name, bytes): &(&str, &'static [u8])| (args.folder.join(name), *bytes);
    let of_part = |(name, bytes): &(&str, &'static [u8])| (parts.join(name), *bytes);
    let flat = || MOVEMENTS.iter().chain([&PRINTED, &SECOND_DRAFT]);
    let all: Vec<(PathBuf, &[u8])> = flat().map(own).chain(PARTS.iter().map(of_part)).collect();
    let may_replace =
        |bytes: &[u8]| MOVEMENTS.iter().chain([&PRINTED, &SECOND_DRAFT]).chain(&PARTS).any(|(_, own)| *own == bytes);
    on_disk::ready(&all.iter().map(|(path, _)| Target { path, may_replace }).collect::<Vec<_>>())?;
    for (path, bytes) in &all {
        on_disk::write(&[Output { path, fill: &|out| out.write_all(bytes) }])?;
    }
    let movements = MOVEMENTS.map(|(name, _)| args.folder.join(name));
    let printed = args.folder.join(PRINTED.0);
    terminal::print(introduction(&movements, &parts, &printed, &args.folder.join(SECOND_DRAFT.0)).as_bytes())?;
    let pages = PagesArgs { what_if: true, ..PagesArgs::default() };
    let [first, second, third] = movements;
    check::run(&CheckArgs { scores: vec![first.clone(), second], pages, ..CheckArgs::default() })?;
    terminal::print(format!("\nSome pages of {} as they were printed:\n", first.display()).as_bytes())?;
    check::run(&CheckArgs {
        scores: vec![first.clone()],
        report: Some(args.folder.join("lantern-ferry-1-printed-check.pdf")),
        annotate: Some(args.folder.join("lantern-ferry-1-printed-notes.pdf")),
        printed: Some(printed),
        ..CheckArgs::default()
    })?;
    terminal::print(format!("\nThe parts of {}, against the score:\n", third.display()).as_bytes())?;
    proof::run(&ProofArgs { files: vec![third, parts], ..ProofArgs::default() })?;
    let newer = args.folder.join(SECOND_DRAFT.0);
    terminal::print(format!("\nThe second draft of {}, against the first:\n", first.display()).as_bytes())?;
    compare::run(&CompareArgs { drafts: vec![first, newer], ..CompareArgs::default() })?;
    Ok(Outcome::Clean)
}

fn introduction(movements: &[PathBuf], parts: &Path, printed: &Path, newer: &Path) -> String {
    let names: Vec<String> = movements.iter().map(|path| path.display().to_string()).collect();
    let all = names.join(" ");
    let set = names.get(..2).unwrap_or_default().join(" ");
    let first = names.first().map_or("", String::as_str);
    let last = names.last().map_or("", String::as_str);
    format!(
        "An invented score; two movements are set on pages and checked as one work:\n  rastrum {set}\n\
         Some pages of the first were printed; they are held against the music:\n  rastrum {first} --pages {}\n\
         The players' parts of the third, and of all:\n  rastrum parts {last}\n  rastrum parts {all}\n\
         Somebody made the parts of the third; they are held against it below:\n  rastrum proof {last} {}\n\
         The first was written anew: what changed, and what has to be printed again:\n  rastrum compare {first} {}\n\n",
        printed.display(),
        parts.display(),
        newer.display()
    )
}

fn cannot_make(folder: &Path, error: &std::io::Error) -> Trouble {
    let hint = "name another folder: rastrum demo FOLDER";
    Trouble::new(format!("{}: cannot be made: {}", folder.display(), plain(error))).hint(hint)
}
