//! The yardstick of speed: unpacks a file, parses its XML whole, and says on stderr how many CPU seconds each took.
//!
//! `cargo run --release --example bare_parse -- FILE`

use std::error::Error;
use std::io::{Cursor, Read};
use std::time::Instant;

pub mod cpu_time;

pub fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args_os().nth(1).ok_or("usage: bare_parse FILE")?;
    let start = Instant::now();
    let text = String::from_utf8(unpacked(std::fs::read(path)?)?)?;
    let unpacked = cpu_time::cpu_seconds(start);
    let options = roxmltree::ParsingOptions { allow_dtd: true, ..roxmltree::ParsingOptions::default() };
    let tree = roxmltree::Document::parse_with_options(&text, options)?;
    let parsed = cpu_time::cpu_seconds(start);
    if tree.root_element().tag_name().name().is_empty() {
        return Err("no root element".into());
    }
    eprintln!("{{\"unpack_cpu_seconds\": {unpacked:.6}, \"parse_cpu_seconds\": {:.6}}}", parsed - unpacked);
    Ok(())
}

/// The largest file of an archive, or the bytes themselves.
fn unpacked(bytes: Vec<u8>) -> Result<Vec<u8>, Box<dyn Error>> {
    if !bytes.starts_with(b"PK") {
        return Ok(bytes);
    }
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes))?;
    let mut largest = (0, 0);
    for at in 0..archive.len() {
        largest = largest.max((archive.by_index(at)?.size(), at));
    }
    let mut xml = Vec::with_capacity(usize::try_from(largest.0)?);
    archive.by_index(largest.1)?.read_to_end(&mut xml)?;
    Ok(xml)
}
