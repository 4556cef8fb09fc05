//! Which scores are measured: the largest of a folder, the smallest, and two between.

use std::fs::File;
use std::path::{Path, PathBuf};

use super::figure::Outcome;

/// A compressed score.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Score {
    /// Bytes of all that is in the archive, decompressed.
    pub inflated: u64,
    pub path: PathBuf,
}

impl Score {
    pub fn name(&self) -> String {
        let megabytes = self.inflated as f64 / 1e6;
        format!("{} ({megabytes:.1} MB)", self.path.file_name().unwrap_or_default().display())
    }
}

/// Four scores of the folder at equal steps of rank, smallest first.
pub fn of(folder: &Path) -> Outcome<Vec<Score>> {
    let listed = folder.read_dir().map_err(|error| format!("{}: {error}", folder.display()))?;
    let mut scores = Vec::new();
    for entry in listed {
        let path = entry?.path();
        if path.extension().is_some_and(|extension| extension == "mxl") {
            scores.push(Score { inflated: inflated(&path)?, path });
        }
    }
    scores.sort();
    scores.dedup_by_key(|score| score.inflated);
    let last = scores.len().saturating_sub(1);
    if last < 3 {
        return Err(format!("{}: fewer than four scores (.mxl) of different size", folder.display()).into());
    }
    Ok((0..=3).filter_map(|step| scores.get(last * step / 3).cloned()).collect())
}

fn inflated(path: &Path) -> Outcome<u64> {
    let mut archive = zip::ZipArchive::new(File::open(path)?)?;
    let mut bytes = 0;
    for at in 0..archive.len() {
        bytes += archive.by_index(at)?.size();
    }
    Ok(bytes)
}
