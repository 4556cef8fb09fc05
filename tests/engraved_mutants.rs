//! A short replay of the fuzz target for engraved pages: the small PDFs of the rules' fixtures, changed byte by byte.

use std::path::PathBuf;

use rastrum::engraved::{layout, measure};
use rastrum::join::alone;
use rastrum::limits::Limits;

/// Changes of one file.
const ROUNDS: u64 = 150;

/// A generator of our own, so that a failure comes back: xorshift (Marsaglia 2003).
struct Random(u64);

impl Random {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % limit.max(1) as u64) as usize
    }
}

fn changed(whole: &[u8], random: &mut Random) -> Vec<u8> {
    let mut bytes = whole.to_vec();
    for _ in 0..=random.below(4) {
        let (at, other) = (random.below(bytes.len()), random.below(bytes.len()));
        match random.below(5) {
            0 => bytes.truncate(at.max(1)),
            1 => bytes[at] = random.below(256) as u8,
            2 => bytes.swap(at, other),
            3 => bytes.splice(at..at, b"99999999".iter().copied()).for_each(drop),
            _ => bytes.drain(at.min(other)..at.max(other).min(at.min(other) + 40)).for_each(drop),
        }
        if bytes.is_empty() {
            return bytes;
        }
    }
    bytes
}

#[test]
fn changed_files_are_measured_or_refused_and_never_end_in_a_panic() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/rules");
    let limits = Limits { pages: 20, page_content_bytes: 1 << 20, ..Limits::default() };
    let (mut measured, mut refused) = (0, 0);
    for rule in ["bars-not-printed", "font-not-embedded", "staff-lines-heavy", "text-too-small"] {
        for name in ["good.pdf", "faulty.pdf"] {
            let whole = std::fs::read(folder.join(rule).join(name)).expect("a fixture");
            let mut random = Random(0x9E37_79B9_7F4A_7C15);
            for _ in 0..ROUNDS {
                match measure(&changed(&whole, &mut random), &limits) {
                    Ok(pages) => {
                        measured += 1;
                        assert_eq!(layout(&pages).pages.len(), pages.len());
                        let (score, layout) = alone(&pages);
                        assert_eq!(score.cells.len(), score.bars.len() * score.staves.len());
                        assert!(layout.systems().all(|(_, _, system)| system.rect.top.0.is_finite()));
                    }
                    Err(_) => refused += 1,
                }
            }
        }
    }
    // Both ways are tried, or the changes are too small or too large.
    assert!(measured > 100 && refused > 100, "{measured} measured, {refused} refused");
}
