//! From a file's bytes to the bytes of its XML: tells files apart by their first bytes, unpacks compressed scores.

use std::borrow::Cow;
use std::io::{Cursor, Read};

use zip::ZipArchive;
use zip::result::ZipError;

use super::error::ReadErrorKind;
use crate::limits::Limits;

/// The XML of one file.
pub(super) struct Unpacked<'a> {
    pub xml: Cow<'a, [u8]>,
    /// Its name in the archive; `None` when the file is no archive.
    pub member: Option<String>,
    /// What was odd about the archive.
    pub odd: Option<&'static str>,
}

/// Unpacks a compressed score; passes plain XML through without copying it.
pub(super) fn unpack<'a>(bytes: &'a [u8], limits: &Limits) -> Result<Unpacked<'a>, ReadErrorKind> {
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Err(ReadErrorKind::Empty);
    }
    if bytes.starts_with(b"PK") {
        return unzip(bytes, limits);
    }
    if let Some(found) = other_file(bytes) {
        return Err(ReadErrorKind::OtherFile { found });
    }
    if bytes.len() as u64 > limits.inflated_bytes {
        return Err(ReadErrorKind::TooLarge { limit: limits.inflated_bytes });
    }
    Ok(Unpacked { xml: Cow::Borrowed(bytes), member: None, odd: None })
}

/// Files that are given by mistake, known by their first bytes.
fn other_file(bytes: &[u8]) -> Option<&'static str> {
    const KNOWN: [(&[u8], &str); 12] = [
        (b"MThd", "a MIDI file"),
        (b"%PDF", "a PDF"),
        (b"\x89PNG", "a PNG picture"),
        (b"\xff\xd8\xff", "a JPEG picture"),
        (b"II*\0", "a TIFF picture"),
        (b"MM\0*", "a TIFF picture"),
        (b"GIF8", "a GIF picture"),
        (b"\x1f\x8b", "a gzip archive"),
        (b"7z\xbc\xaf", "a 7z archive"),
        (b"Rar!", "a RAR archive"),
        (b"\xd0\xcf\x11\xe0", "an old office document"),
        (b"{\\rtf", "a text document"),
    ];
    KNOWN.iter().find(|(magic, _)| bytes.starts_with(magic)).map(|(_, found)| *found)
}

fn unzip<'a>(bytes: &[u8], limits: &Limits) -> Result<Unpacked<'a>, ReadErrorKind> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(bad_archive)?;
    if archive.len() > limits.archive_entries {
        return Err(ReadErrorKind::TooMany { what: "files in the archive", limit: limits.archive_entries });
    }
    for at in 0..archive.len() {
        let entry = archive.by_index_raw(at).map_err(bad_archive)?;
        if entry.enclosed_name().is_none() {
            return Err(ReadErrorKind::OutsideArchive { name: entry_name(&entry) });
        }
    }
    let (name, odd) = match named_in_container(&mut archive, limits)? {
        Some(name) => (name, None),
        None => (only_score(&mut archive)?, Some("The archive has no META-INF/container.xml that names its score.")),
    };
    if name.starts_with('/') || name.contains('\\') || name.split('/').any(|step| step == "..") {
        return Err(ReadErrorKind::OutsideArchive { name });
    }
    let name = name.strip_prefix("./").unwrap_or(&name);
    let at = archive
        .index_for_name(name)
        .ok_or_else(|| ReadErrorKind::NotInArchive { name: name.chars().take(80).collect() })?;
    let xml = inflate(&mut archive, at, limits.inflated_bytes, limits.inflation)?;
    if xml.iter().all(u8::is_ascii_whitespace) {
        return Err(ReadErrorKind::Empty);
    }
    if let Some(found) = other_file(&xml) {
        return Err(ReadErrorKind::OtherFile { found });
    }
    Ok(Unpacked { xml: Cow::Owned(xml), member: Some(name.to_owned()), odd })
}

/// The first root file of META-INF/container.xml whose type is MusicXML or not given.
fn named_in_container(
    archive: &mut ZipArchive<Cursor<&[u8]>>,
    limits: &Limits,
) -> Result<Option<String>, ReadErrorKind> {
    /// A table of contents has a few hundred bytes.
    const CONTENTS: u64 = 1 << 20;
    let Some(at) = archive.index_for_name("META-INF/container.xml") else { return Ok(None) };
    let bytes = inflate(archive, at, CONTENTS.min(limits.inflated_bytes), limits.inflation)?;
    let text = super::encoding::decode(Cow::Owned(bytes)).map_err(|trouble| trouble.kind)?;
    let Ok(tree) = roxmltree::Document::parse(&text) else { return Ok(None) };
    let mut roots = tree.descendants().filter(|node| node.tag_name().name() == "rootfile");
    let is_score = |node: &roxmltree::Node<'_, '_>| {
        node.attribute("media-type").is_none_or(|kind| kind.contains("musicxml") || kind.ends_with("xml"))
    };
    Ok(roots.find(is_score).and_then(|node| node.attribute("full-path")).map(str::to_owned))
}

/// Without a table of contents: the one XML file outside META-INF.
fn only_score(archive: &mut ZipArchive<Cursor<&[u8]>>) -> Result<String, ReadErrorKind> {
    let mut found = None;
    for at in 0..archive.len() {
        let name = entry_name(&archive.by_index_raw(at).map_err(bad_archive)?);
        let lower = name.to_ascii_lowercase();
        if !lower.starts_with("meta-inf/") && (lower.ends_with(".xml") || lower.ends_with(".musicxml")) {
            if found.is_some() {
                return Err(ReadErrorKind::NoScoreInArchive);
            }
            found = Some(name);
        }
    }
    found.ok_or(ReadErrorKind::NoScoreInArchive)
}

fn inflate(
    archive: &mut ZipArchive<Cursor<&[u8]>>,
    at: usize,
    limit: u64,
    inflation: u64,
) -> Result<Vec<u8>, ReadErrorKind> {
    /// Up to this size nothing grows out of hand, however much it grows.
    const HARMLESS: u64 = 64 << 20;
    /// Deflate cannot shrink anything further than this.
    const DEFLATE_AT_MOST: u64 = 1032;
    let entry = archive.by_index(at).map_err(bad_archive)?;
    let limit = limit.min(entry.compressed_size().saturating_mul(inflation).max(HARMLESS));
    if entry.size() > limit {
        return Err(ReadErrorKind::TooLarge { limit });
    }
    let plausible = entry.size().min(entry.compressed_size().saturating_mul(DEFLATE_AT_MOST)).min(limit);
    let mut bytes = Vec::with_capacity(usize::try_from(plausible).unwrap_or(0));
    entry
        .take(limit.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(|error| ReadErrorKind::BadArchive { what: error.to_string() })?;
    if bytes.len() as u64 > limit {
        return Err(ReadErrorKind::TooLarge { limit });
    }
    Ok(bytes)
}

fn entry_name<R: Read>(entry: &zip::read::ZipFile<'_, R>) -> String {
    entry.name().map(std::borrow::Cow::into_owned).unwrap_or_default()
}

fn bad_archive(error: ZipError) -> ReadErrorKind {
    ReadErrorKind::BadArchive { what: error.to_string() }
}
