//! Any bytes: measuring pages never panics, ends, and what it measures lies where numbers can be.
//!
//! `cargo fuzz run --fuzz-dir tests/fuzz measure_pages tests/fixtures/rules/text-too-small`

#![no_main]

use libfuzzer_sys::fuzz_target;
use rastrum::engraved::{layout, measure};
use rastrum::join::alone;
use rastrum::limits::Limits;

fuzz_target!(|bytes: &[u8]| {
    let limits = Limits { pages: 20, page_content_bytes: 1 << 20, ..Limits::default() };
    if let Ok(pages) = measure(bytes, &limits) {
        assert_eq!(layout(&pages).pages.len(), pages.len());
        let (score, layout) = alone(&pages);
        assert_eq!(score.cells.len(), score.bars.len() * score.staves.len());
        assert!(layout.systems().all(|(_, _, system)| system.rect.top.0.is_finite()));
    }
});
