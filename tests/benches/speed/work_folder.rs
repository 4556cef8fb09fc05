//! A folder for what the measured runs write, gone afterwards.

use std::path::{Path, PathBuf};

/// Removed with all that is in it when dropped.
#[derive(Debug)]
pub struct WorkFolder(PathBuf);

impl WorkFolder {
    pub fn new() -> std::io::Result<WorkFolder> {
        let path = std::env::temp_dir().join(format!("rastrum-speed-{}", std::process::id()));
        std::fs::create_dir(&path)?;
        Ok(WorkFolder(path))
    }

    pub fn path(&self) -> &Path {
        &self.0
    }
}

impl Drop for WorkFolder {
    fn drop(&mut self) {
        if let Err(error) = std::fs::remove_dir_all(&self.0) {
            eprintln!("{}: {error}", self.0.display());
        }
    }
}
