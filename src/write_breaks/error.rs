//! What keeps a copy from being written.

use crate::read::ReadError;

/// Why one file could not be written back with other breaks.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WriteError {
    #[error(transparent)]
    Read(#[from] ReadError),
    #[error("{file}: has {found} bars, not the {known} that the pages were found for")]
    OtherMusic { file: String, found: usize, known: usize },
    /// `bar` is counted from 1 in its file.
    #[error("{file}: no part has music in bar {bar}, so no break can be set there")]
    NoPlace { file: String, bar: usize },
    #[error("{file}: its text cannot be written back byte for byte as {encoding}")]
    Encoding { file: String, encoding: &'static str },
    #[error("{file}: the compressed copy cannot be written: {what}")]
    Archive { file: String, what: String },
}

impl WriteError {
    /// What the user can do.
    #[must_use]
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            WriteError::Read(error) => error.kind.hint(),
            WriteError::OtherMusic { .. } => Some("the file was changed in the meantime: start again"),
            WriteError::NoPlace { .. } => Some("give that bar of the top part a rest and export the file again"),
            WriteError::Encoding { .. } => Some("save the file as UTF-8"),
            WriteError::Archive { .. } => Some("give the copy a name that ends in .musicxml"),
        }
    }
}
