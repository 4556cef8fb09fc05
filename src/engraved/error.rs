//! Why pages cannot be measured.

use thiserror::Error;

/// One trouble of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum EngravedError {
    #[error("cannot be read as a PDF")]
    NotPdf,
    #[error("asks for a password")]
    Password,
    #[error("has no pages")]
    NoPages,
    #[error("has more than {limit} pages")]
    TooManyPages { limit: usize },
    #[error("holds a stream that unpacks to more than {limit} bytes")]
    TooLarge { limit: usize },
    #[error("its pages draw forms in each other without end")]
    Endless,
    #[error("no staves are drawn on its pages")]
    NoStaves,
    #[error("its staves are tablature")]
    Tablature,
    #[error("its pages are pictures")]
    Picture,
}

impl EngravedError {
    /// What to do about it.
    #[must_use]
    pub fn hint(self) -> &'static str {
        match self {
            EngravedError::NotPdf => "export it anew, or open it and print it into a new PDF",
            EngravedError::Password => "save a copy that opens without one",
            EngravedError::NoPages => "export it anew",
            EngravedError::TooManyPages { .. } => "divide it",
            EngravedError::TooLarge { .. } | EngravedError::Endless => "print it into a new PDF",
            EngravedError::NoStaves => "name a PDF that a music program exported",
            EngravedError::Tablature => "only staves of notes are measured",
            EngravedError::Picture => "scans are not measured yet; name a PDF that a music program exported",
        }
    }
}
