//! The file of accepted findings, beside the score.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use rastrum::accepted::{Entry, HEADER};
use rastrum::check::AcceptedFile;

use super::exit::{Failure, Trouble};
use super::files::{self, Output, plain};

/// Whose findings a file holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    Score,
    Parts,
    /// Differences between score and parts.
    Proof,
}

/// `NAME-accepted.toml`, `NAME-parts-accepted.toml` or `NAME-proof-accepted.toml` beside `NAME.mxl`; none for standard input.
#[must_use]
pub fn beside(score: &Path, of: Of) -> Option<PathBuf> {
    if score.as_os_str() == "-" {
        return None;
    }
    let mut name = score.file_stem()?.to_owned();
    name.push(match of {
        Of::Score => "-accepted.toml",
        Of::Parts => "-parts-accepted.toml",
        Of::Proof => "-proof-accepted.toml",
    });
    Some(score.with_file_name(name))
}

/// What was accepted before, if anything.
pub fn read(score: &Path, of: Of) -> Result<Option<AcceptedFile>, Trouble> {
    let Some(path) = beside(score, of) else { return Ok(None) };
    match fs::read_to_string(&path) {
        Ok(text) => Ok(Some(AcceptedFile { name: files::name(&path), text })),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(Trouble::new(format!("{}: cannot be read: {}", path.display(), plain(&error)))),
    }
}

/// Adds entries at the end; what stands there, comments and all, stays as it is.
pub fn append(path: &Path, old: Option<&AcceptedFile>, entries: &[Entry]) -> Result<(), Failure> {
    let old = old.map_or(HEADER, |file| file.text.as_str());
    files::write(&[Output {
        path,
        fill: &|out| {
            out.write_all(old.as_bytes())?;
            if !old.is_empty() && !old.ends_with('\n') {
                writeln!(out)?;
            }
            entries.iter().try_for_each(|entry| write!(out, "{entry}"))
        },
    }])
}
