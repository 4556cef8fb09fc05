//! Odd input that was read all the same: said at the end of the report, and on standard error where it may change what is found.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What kind of oddity a [`Remark`] tells of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RemarkKind {
    /// An element inside note, direction, attributes, print or barline that rastrum does not read; counted by name.
    Unread,
    /// Music that does not add up: overfull bars, a backup below zero, parts of unequal length.
    Music,
    /// Parts, staves or names that do not fit the list of parts.
    Parts,
    /// A recorded layout value that is missing or cannot be.
    Layout,
    /// The file as a file: encoding, container, document type.
    File,
}

/// One oddity, with its place in the file where it has one. Lines and columns count from 1.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Remark {
    pub kind: RemarkKind,
    pub message: String,
    /// Which input file, counted from 0.
    pub input: u16,
    pub line: Option<u32>,
    pub column: Option<u32>,
}

impl Remark {
    /// A remark without a place in the file.
    #[must_use]
    pub fn new(kind: RemarkKind, input: u16, message: impl Into<String>) -> Remark {
        Remark { kind, message: message.into(), input, line: None, column: None }
    }

    /// The same remark at a place in the file.
    #[must_use]
    pub fn at(mut self, line: u32, column: u32) -> Remark {
        (self.line, self.column) = (Some(line), Some(column));
        self
    }
}
