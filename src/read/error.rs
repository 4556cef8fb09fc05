//! What keeps a file from being read: where, what, and what to do about it.

use std::fmt;

/// One trouble that keeps a file from being read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadError {
    /// Which input, counted from 0.
    pub input: u16,
    /// The input's name as the caller gave it.
    pub file: String,
    /// Line in the file as the user sees it, counted from 1; `None` when the trouble is the file as a whole.
    pub line: Option<u32>,
    /// Character in that line, counted from 1.
    pub column: Option<u32>,
    pub kind: ReadErrorKind,
}

/// What is wrong.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadErrorKind {
    #[error("the file is empty")]
    Empty,
    #[error("this is {found}, not MusicXML")]
    OtherFile { found: &'static str },
    #[error("this is not XML: it does not begin with \"<\"")]
    NotXml,
    #[error("the text is not {encoding}")]
    WrongEncoding { encoding: String },
    #[error("the encoding \"{label}\" is not known")]
    UnknownEncoding { label: String },
    #[error("this is XML but not MusicXML: the root element is \"{root}\"")]
    NotMusicXml { root: String },
    #[error("the XML is broken: {what}")]
    Malformed { what: String },
    #[error("the file breaks off: it ends before the music does")]
    Truncated,
    #[error("the document type declares entities of its own")]
    Entities,
    #[error("the entity \"&{name};\" is not known")]
    UnknownEntity { name: String },
    #[error("the music is larger than {} MB when unpacked", limit >> 20)]
    TooLarge { limit: u64 },
    #[error("elements are nested more than {limit} deep")]
    TooDeep { limit: usize },
    #[error("an element has more than {limit} attributes")]
    TooManyAttributes { limit: usize },
    #[error("more than {limit} {what}")]
    TooMany { what: &'static str, limit: usize },
    #[error("the archive cannot be read: {what}")]
    BadArchive { what: String },
    #[error("there is no score in the archive")]
    NoScoreInArchive,
    #[error("the archive names a score that it does not hold: \"{name}\"")]
    NotInArchive { name: String },
    #[error("the archive names a file outside itself: \"{name}\"")]
    OutsideArchive { name: String },
    #[error("divisions must be a whole number above 0, not \"{found}\"")]
    Divisions { found: String },
    #[error("a duration must be a number of 0 or more, not \"{found}\"")]
    Duration { found: String },
    #[error("durations add up beyond all measure")]
    Overflow,
    #[error("{what}")]
    Outline { what: String, hint: &'static str },
    #[error("this is an outline, which stands for a whole work by itself")]
    OutlineAmongScores,
    #[error("this is an outline: there are no notes to copy")]
    NoNotes,
    #[error("the score has no parts")]
    NoParts,
    #[error("the score has no bars")]
    NoBars,
}

impl ReadErrorKind {
    /// What the user can do; `None` when the message says all there is to say.
    #[must_use]
    pub fn hint(&self) -> Option<&'static str> {
        Some(match self {
            Self::Empty | Self::Truncated => "export or copy the file again; it may not have been written to its end",
            Self::OtherFile { found } if found.contains("MIDI") => {
                "MIDI holds no pages, parts or engraving: export MusicXML from the notation program"
            }
            Self::OtherFile { found } if found.contains("PDF") => {
                "give the MusicXML as the score; engraved pages are read beside it, not in its place"
            }
            Self::OtherFile { .. } | Self::NotXml => {
                "export MusicXML (.musicxml, .xml or .mxl) from the notation program"
            }
            Self::WrongEncoding { .. } | Self::UnknownEncoding { .. } => "save the file as UTF-8",
            Self::NotMusicXml { root } => match root.as_str() {
                "container" => "this is the table of contents of a compressed score: give the .mxl file itself",
                "opus" => "an opus only lists scores: give the listed files, in order",
                "html" | "HTML" => "this is a web page, perhaps of a failed download",
                "mei" => "this is an MEI file: convert it to MusicXML first",
                _ => "MusicXML begins with score-partwise or score-timewise",
            },
            Self::Malformed { .. } => "export the file again; if it was edited by hand, mend the place named",
            Self::Entities => "remove the declarations between [ and ] in the DOCTYPE line; MusicXML needs none",
            Self::UnknownEntity { .. } => "write the character itself, or its number as in &#233;",
            Self::TooLarge { .. } | Self::TooDeep { .. } | Self::TooManyAttributes { .. } | Self::TooMany { .. } => {
                "no orchestral score is so large: the file is damaged or was made to do harm"
            }
            Self::BadArchive { .. } => "export the file again, or unpack it and give the .musicxml inside",
            Self::NotInArchive { .. } => "export the file again, or unpack it and give the .musicxml inside",
            Self::NoScoreInArchive => "a compressed score names its music in META-INF/container.xml",
            Self::OutsideArchive { .. } => "do not trust this file; ask for a fresh export",
            Self::Divisions { .. } | Self::Duration { .. } | Self::Overflow => {
                "mend the number at the place named, or export the file again"
            }
            Self::Outline { hint, .. } => hint,
            Self::OutlineAmongScores => "check it alone; its movements are sections that say movement = \"a title\"",
            Self::NoNotes => "copies with other breaks are made of MusicXML",
            Self::NoParts | Self::NoBars => "export the file again with its music",
        })
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.file)?;
        if let (Some(line), Some(column)) = (self.line, self.column) {
            write!(f, ":{line}:{column}")?;
        }
        write!(f, ": {}", self.kind)
    }
}

impl std::error::Error for ReadError {}

/// A trouble and the byte of the text where it stands.
#[derive(Debug)]
pub(super) struct Trouble {
    pub at: Option<usize>,
    pub kind: ReadErrorKind,
}

impl Trouble {
    pub fn at(at: usize, kind: ReadErrorKind) -> Trouble {
        Trouble { at: Some(at), kind }
    }
}

impl From<ReadErrorKind> for Trouble {
    fn from(kind: ReadErrorKind) -> Trouble {
        Trouble { at: None, kind }
    }
}
