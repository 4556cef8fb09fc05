//! `rastrum demo`: an example score with parts, printed pages and a second draft, invented for the purpose; its check, the
//! proof of its parts, and what became of the draft.

use std::fs;
use std::path::{Path, PathBuf};

use super::args::{CheckArgs, CompareArgs, DemoArgs, PagesArgs, ProofArgs};
use super::exit::{Failure, Outcome, Trouble};
use super::files::{self as on_disk, Output, Target, plain};
use super::{check, compare, proof, terminal};

mod files;

use files::{FIRST_PARTS, MOVEMENTS, PARTS, PRINTED, SECOND_DRAFT};

/// Where everything of the example stands on disk.
struct OnDisk {
    movements: [PathBuf; 3],
    printed: PathBuf,
    second_draft: PathBuf,
    /// Folders of the parts of the last movement, and of the first.
    parts: PathBuf,
    first_parts: PathBuf,
}

/// Writes score, pages and parts into the folder, checks the score and the pages, proofs the parts, and compares the drafts.
/// What it finds is what the example is there to show: it is no reason to end with an exit code of 1.
pub fn run(args: &DemoArgs) -> Result<Outcome, Failure> {
    let paths = OnDisk::of(&args.folder);
    paths.write(&args.folder)?;
    terminal::print(paths.introduction().as_bytes())?;
    let OnDisk { movements: [first, second, third], printed, second_draft, parts, first_parts } = paths;
    let pages = PagesArgs { what_if: true, ..PagesArgs::default() };
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
    terminal::print(format!("\nThe second draft of {}, against the first:\n", first.display()).as_bytes())?;
    compare::run(&CompareArgs {
        drafts: vec![first, second_draft],
        old_parts: vec![first_parts],
        ..CompareArgs::default()
    })?;
    Ok(Outcome::Clean)
}

impl OnDisk {
    fn of(folder: &Path) -> OnDisk {
        OnDisk {
            movements: MOVEMENTS.map(|(name, _)| folder.join(name)),
            printed: folder.join(PRINTED.0),
            second_draft: folder.join(SECOND_DRAFT.0),
            parts: folder.join("parts"),
            first_parts: folder.join("first-parts"),
        }
    }

    /// Replaces nothing but files of an earlier run.
    fn write(&self, folder: &Path) -> Result<(), Failure> {
        for parts in [&self.parts, &self.first_parts] {
            fs::create_dir_all(parts).map_err(|error| cannot_make(parts, &error))?;
        }
        let of_parts = PARTS.iter().map(|(name, bytes)| (self.parts.join(name), *bytes));
        let of_first = FIRST_PARTS.iter().map(|(name, bytes)| (self.first_parts.join(name), *bytes));
        let all: Vec<(PathBuf, &[u8])> =
            flat().map(|(name, bytes)| (folder.join(name), *bytes)).chain(of_parts).chain(of_first).collect();
        on_disk::ready(&all.iter().map(|(path, _)| Target { path, may_replace: is_ours }).collect::<Vec<_>>())?;
        for (path, bytes) in &all {
            on_disk::write(&[Output { path, fill: &|out| out.write_all(bytes) }])?;
        }
        Ok(())
    }

    fn introduction(&self) -> String {
        let [first, second, third] = self.movements.each_ref().map(|path| path.display());
        format!(
            "An invented score; two movements are set on pages and checked as one work:\n  rastrum {first} {second}\n\
             Some pages of the first were printed; they are held against the music:\n  rastrum {first} --pages {}\n\
             The players' parts of the third, and of all:\n  rastrum parts {third}\n  rastrum parts {first} {second} {third}\n\
             Somebody made the parts of the third; they are held against it below:\n  rastrum proof {third} {}\n\
             The first was written anew, and two of its parts lie on the stands: what changed, and what has to be printed \
             again:\n  rastrum compare {first} {} --old-parts {}\n\n",
            self.printed.display(),
            self.parts.display(),
            self.second_draft.display(),
            self.first_parts.display()
        )
    }
}

/// The files that stand beside each other.
fn flat() -> impl Iterator<Item = &'static (&'static str, &'static [u8])> {
    MOVEMENTS.iter().chain([&PRINTED, &SECOND_DRAFT])
}

fn is_ours(bytes: &[u8]) -> bool {
    flat().chain(&PARTS).chain(&FIRST_PARTS).any(|(_, own)| *own == bytes)
}

fn cannot_make(folder: &Path, error: &std::io::Error) -> Trouble {
    let hint = "name another folder: rastrum demo FOLDER";
    Trouble::new(format!("{}: cannot be made: {}", folder.display(), plain(error))).hint(hint)
}
