//! What a score is held against: guidelines, paper, and what was accepted before.

use std::path::{Path, PathBuf};

use rastrum::check::Options;
use rastrum::guidelines::{self, HouseSheet, Request};

use super::accepted_file;
use super::args::HouseArgs;
use super::exit::{Failure, Trouble};
use super::files;

/// A house sheet has a few kilobytes; this is no house sheet.
const LARGEST_SHEET: u64 = 1 << 20;

/// The options for the score whose (first) file is `score`.
pub fn options(args: &HouseArgs, score: &Path) -> Result<Options, Failure> {
    let mut request = Request { changes: args.limits.clone(), ..Request::default() };
    match args.guidelines.as_deref() {
        Some(path) if !is_set(path) && is_file(path) => request.sheets.push(sheet(&PathBuf::from(path))?),
        set => request.set = set.map(str::to_owned),
    }
    Ok(Options {
        guidelines: request,
        print_on: args.print_on.clone(),
        accepted: accepted_file::read(score, accepted_file::Of::Score)?,
        ..Options::default()
    })
}

/// A set's name counts before a file's.
fn is_set(name: &str) -> bool {
    guidelines::sets().is_ok_and(|sets| sets.iter().any(|set| set.name == name))
}

/// What is there, or is named like a house sheet: it may be misspelt, but no set is meant.
fn is_file(name: &str) -> bool {
    let path = Path::new(name);
    path.is_file() || path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml"))
}

fn sheet(path: &Path) -> Result<HouseSheet, Trouble> {
    let text = String::from_utf8(files::read(path, LARGEST_SHEET)?).map_err(|_| not_a_sheet(path, "is not text"))?;
    if text.len() as u64 > LARGEST_SHEET {
        return Err(not_a_sheet(path, "is too large for a house sheet"));
    }
    Ok(HouseSheet { name: files::name(path), text })
}

fn not_a_sheet(path: &Path, what: &str) -> Trouble {
    let hint = "--for takes a guideline set or a house sheet (TOML); rastrum rules lists both";
    Trouble::new(format!("{}: {what}", path.display())).hint(hint)
}
