//! What is wrong with the text of a reference layout.

/// One trouble and its line, counted from 1.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{file}:{line}: {what}")]
pub struct ReferenceError {
    pub file: String,
    pub line: usize,
    pub what: String,
}
