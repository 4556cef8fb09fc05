//! Any bytes: the reader never panics, and accepts no plain file that a parse of the whole would refuse.
//!
//! `cargo fuzz run --fuzz-dir tests/fuzz read_musicxml tests/fixtures/musicxml`

#![no_main]

use libfuzzer_sys::fuzz_target;
use rastrum::limits::Limits;
use rastrum::read::{Input, read};

fuzz_target!(|bytes: &[u8]| {
    let limits = Limits { inflated_bytes: 1 << 20, bars: 2_000, cells: 20_000, ..Limits::default() };
    let accepted = read(&[Input { name: "fuzz", bytes }], &limits).is_ok();
    if let (true, Ok(text)) = (accepted, std::str::from_utf8(bytes)) {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let options = roxmltree::ParsingOptions { allow_dtd: true, ..roxmltree::ParsingOptions::default() };
        if text.starts_with('<') {
            assert!(roxmltree::Document::parse_with_options(text, options).is_ok());
        }
    }
});
