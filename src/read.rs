//! Bytes to music: MusicXML 2.0 to 4.0, partwise, timewise or compressed, as real programs write it; or the outline
//! of a piece that has no notes yet.
//!
//! The text is parsed one part at a time, so that memory stays a small multiple of the file. What is odd but readable
//! is read and remarked on; what cannot be read is one clear error with its place. Nothing panics.

use crate::layout::Record;
use crate::limits::Limits;
use crate::remarks::Remark;
use crate::score::Score;

mod container;
mod cursor;
mod document;
mod draft;
mod elements;
mod encoding;
mod error;
mod family;
mod file;
mod finish;
mod fold;
mod groups;
mod header;
mod join;
mod listed;
mod marks;
mod matching;
mod oddities;
mod opened;
mod outline;
mod page;
mod part;
mod prints;
mod repeats;
mod scan;
mod seconds;
mod tags;
mod tempo;
mod words;
mod xml;

pub(crate) use cursor::{Cursor, Ticks};
pub(crate) use elements::{Element, elements};
pub use error::{ReadError, ReadErrorKind};
pub use listed::parts_listed;
pub(crate) use opened::Opened;
pub(crate) use prints::{BarPlace, prints};
pub(crate) use tags::attributes;

/// One file: the name that messages call it by, and its bytes.
#[derive(Clone, Copy, Debug)]
pub struct Input<'a> {
    pub name: &'a str,
    pub bytes: &'a [u8],
}

/// All that the inputs say.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    pub score: Score,
    pub record: Record,
    /// In order of the inputs.
    pub remarks: Vec<Remark>,
    /// One an input.
    pub sources: Vec<SourceInfo>,
}

/// What an input was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceInfo {
    pub name: String,
    /// "MusicXML 4.0 partwise", "MusicXML 3.1 timewise, compressed", "outline".
    pub format: String,
    /// Bytes of its XML (or of the outline's text), unpacked and before its text was decoded.
    pub xml_bytes: u64,
}

/// Reads the movements of one work, in order; or an outline, which stands for the whole work.
///
/// # Errors
/// Every trouble of every input, in order; an input that cannot be read does not hide those of the next.
pub fn read(inputs: &[Input<'_>], limits: &Limits) -> Result<Reading, Vec<ReadError>> {
    if let [input] = inputs
        && let Some(outline) = outline::read(*input, limits)
    {
        return outline;
    }
    let mut read = Vec::with_capacity(inputs.len());
    let (mut remarks, mut sources, mut errors) = (Vec::new(), Vec::new(), Vec::new());
    for (number, input) in (0_u16..).zip(inputs) {
        match file::read_file(number, *input, limits) {
            Ok(file) => {
                remarks.extend(file.remarks);
                sources.push(file.source);
                read.push(file.movement);
            }
            Err(troubles) => errors.extend(troubles),
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    let whole = |kind| {
        let file = inputs.first().map_or("", |input| input.name).to_owned();
        vec![ReadError { input: 0, file, line: None, column: None, kind }]
    };
    if read.is_empty() {
        return Err(whole(ReadErrorKind::Empty));
    }
    let (score, record) = join::join(read, limits).map_err(whole)?;
    Ok(Reading { score, record, remarks, sources })
}
