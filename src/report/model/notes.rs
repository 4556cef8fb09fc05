//! Oddities in the published JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::accepted::{Entry, Lapse};
use crate::check::Checked;
use crate::remarks::{Remark, RemarkKind};

/// Something odd that was read all the same, or an accepted finding that lapsed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Note {
    pub kind: NoteKind,
    /// Begins with the file's name when there are several.
    pub message: String,
    /// In the file, counted from 1.
    pub line: Option<u32>,
    pub column: Option<u32>,
}

/// What a note is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NoteKind {
    /// An element that is not read, counted by name.
    Unread,
    /// Music that does not add up.
    Music,
    /// Parts, staves or names that do not fit the list of parts.
    Parts,
    /// A recorded layout value that is missing or cannot be.
    Layout,
    /// The file as a file: encoding, container, document type.
    File,
    /// A finding that was accepted before and is not found any more.
    Lapsed,
}

pub(super) fn of(checked: &Checked) -> Vec<Note> {
    let remarks = checked.remarks.iter().map(|remark| Note::of(remark, checked));
    remarks.chain(checked.lapsed.iter().map(|(entry, lapse)| Note::lapsed(entry, *lapse))).collect()
}

impl Note {
    fn of(remark: &Remark, checked: &Checked) -> Note {
        let several = checked.sources.len() > 1;
        let file = checked.sources.get(usize::from(remark.input)).filter(|_| several);
        let message = file.map_or_else(|| remark.message.clone(), |file| format!("{}: {}", file.name, remark.message));
        Note { kind: remark.kind.into(), message, line: remark.line, column: remark.column }
    }

    fn lapsed(entry: &Entry, lapse: Lapse) -> Note {
        let place = if entry.label.is_empty() { String::new() } else { format!(" at bar {}", entry.label) };
        let message = format!("{}{place} was accepted, but {lapse}", entry.rule);
        Note { kind: NoteKind::Lapsed, message, line: None, column: None }
    }
}

impl From<RemarkKind> for NoteKind {
    fn from(kind: RemarkKind) -> NoteKind {
        match kind {
            RemarkKind::Unread => NoteKind::Unread,
            RemarkKind::Music => NoteKind::Music,
            RemarkKind::Parts => NoteKind::Parts,
            RemarkKind::Layout => NoteKind::Layout,
            RemarkKind::File => NoteKind::File,
        }
    }
}
