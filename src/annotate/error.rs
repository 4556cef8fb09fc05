//! Why nothing can be written onto a file, and what a file loses by it.

use std::fmt;

use thiserror::Error;

/// One trouble of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum AnnotateError {
    #[error("cannot be read as a PDF")]
    NotPdf,
    #[error("asks for a password")]
    Password,
    #[error("has no pages")]
    NoPages,
    #[error("has more than {limit} pages")]
    TooManyPages { limit: usize },
    #[error("its pages do not hang together")]
    PageTree,
    /// `page` is counted from 1.
    #[error("has no page {page}, only {pages}")]
    NoSuchPage { page: usize, pages: usize },
    #[error("is certified: its signature lets nobody write notes onto it")]
    Certified,
    #[error("is certified: its signature lets nobody add pages to it")]
    CertifiedPages,
    #[error("the sheets to append cannot be read")]
    Sheets,
    #[error("has too many objects to add one")]
    Full,
}

impl AnnotateError {
    /// What to do about it.
    #[must_use]
    pub fn hint(self) -> &'static str {
        match self {
            AnnotateError::NotPdf | AnnotateError::NoPages => "export it anew, or open it and print it into a new PDF",
            AnnotateError::Password => "save a copy that opens without one",
            AnnotateError::TooManyPages { .. } => "divide it",
            AnnotateError::PageTree | AnnotateError::Full => "open it and print it into a new PDF",
            AnnotateError::NoSuchPage { .. } => "name the PDF that was checked",
            AnnotateError::Certified => "ask its publisher for a copy without a certificate",
            AnnotateError::CertifiedPages => "leave the sheets out",
            AnnotateError::Sheets => "leave the sheets out, or write them anew",
        }
    }
}

/// What the copy has no more. The pages' content is never among it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Loss {
    /// Its signatures no longer vouch for it.
    Signature,
    /// It was locked against changes, although it opened without a password; the copy is not.
    Encryption,
    /// Objects that could not be read were not copied.
    Objects { count: usize },
}

impl fmt::Display for Loss {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Loss::Signature => write!(f, "its signatures no longer hold"),
            Loss::Encryption => write!(f, "its owner's lock is gone"),
            Loss::Objects { count: 1 } => write!(f, "1 damaged object is left out"),
            Loss::Objects { count } => write!(f, "{count} damaged objects are left out"),
        }
    }
}
