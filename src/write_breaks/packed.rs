//! Plain XML, or a compressed score with all that it holds.

use std::io::{Cursor, Write};

use zip::result::ZipResult;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

use crate::read::{Input, Opened};

/// The form of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Packing {
    /// The XML itself (.musicxml, .xml).
    Plain,
    /// A compressed score (.mxl).
    Compressed,
}

impl Packing {
    /// As a file's ending asks for it, in any case; `None` for endings that no score has.
    #[must_use]
    pub fn of_ending(ending: &str) -> Option<Packing> {
        match ending.to_ascii_lowercase().as_str() {
            "musicxml" | "xml" => Some(Packing::Plain),
            "mxl" => Some(Packing::Compressed),
            _ => None,
        }
    }
}

/// The whole file. A compressed score that stays compressed keeps its other members as they are.
pub(super) fn pack(opened: &Opened<'_>, input: Input<'_>, xml: Vec<u8>, packing: Packing) -> ZipResult<Vec<u8>> {
    match (packing, &opened.member) {
        (Packing::Plain, _) => Ok(xml),
        (Packing::Compressed, Some(member)) => repack(input.bytes, member, &xml),
        (Packing::Compressed, None) => new_archive(&xml),
    }
}

fn repack(bytes: &[u8], member: &str, xml: &[u8]) -> ZipResult<Vec<u8>> {
    let mut old = ZipArchive::new(Cursor::new(bytes))?;
    let mut new = ZipWriter::new(Cursor::new(Vec::with_capacity(bytes.len())));
    let score = old.index_for_name(member);
    for at in 0..old.len() {
        let entry = old.by_index_raw(at)?;
        if Some(at) == score {
            new.start_file(member, deflated().last_modified_time(entry.last_modified().unwrap_or_default()))?;
            new.write_all(xml)?;
        } else {
            new.raw_copy_file(entry)?;
        }
    }
    Ok(new.finish()?.into_inner())
}

const MEMBER: &str = "score.musicxml";
/// The type of a compressed score (MusicXML 4.0, "Compressed .mxl files").
const TYPE: &str = "application/vnd.recordare.musicxml";

/// As MusicXML asks for it: the type first and not compressed, then the table of contents.
fn new_archive(xml: &[u8]) -> ZipResult<Vec<u8>> {
    let contents = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<container>\n  <rootfiles>\n    \
         <rootfile full-path=\"{MEMBER}\" media-type=\"{TYPE}+xml\"/>\n  </rootfiles>\n</container>\n"
    );
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes, options) in [
        ("mimetype", TYPE.as_bytes(), deflated().compression_method(CompressionMethod::Stored)),
        ("META-INF/container.xml", contents.as_bytes(), deflated()),
        (MEMBER, xml, deflated()),
    ] {
        archive.start_file(name, options)?;
        archive.write_all(bytes)?;
    }
    Ok(archive.finish()?.into_inner())
}

/// Dated as early as archives can be: the same score gives the same bytes on any day.
fn deflated() -> SimpleFileOptions {
    SimpleFileOptions::default().compression_method(CompressionMethod::Deflated).last_modified_time(DateTime::default())
}
