//! What can keep a document from being written.

/// Why a document could not be written. Drawing itself never fails: a mistake is kept and told by
/// [`Document::finish`](super::Document::finish), the first one made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PdfError {
    #[error("the document has no page")]
    NoPages,
    #[error("nothing is named \"{name}\", but \"{from}\" leads there")]
    UnknownAnchor { name: String, from: String },
    #[error("two places are named \"{name}\"")]
    AnchorTwice { name: String },
    #[error("a page of another document was used")]
    ForeignPage,
    #[error("a structure element of another document was used")]
    ForeignElement,
    #[error("the built-in font {name} cannot be embedded: {why}")]
    Font { name: &'static str, why: String },
    #[error("the PDF could not be put together: {0}")]
    Assembly(String),
}

impl From<lopdf::Error> for PdfError {
    fn from(error: lopdf::Error) -> PdfError {
        PdfError::Assembly(error.to_string())
    }
}
