//! Damaged files: nothing panics, and nothing is accepted that a parse of the whole would refuse.

use std::time::{Duration, Instant};

use rastrum::limits::Limits;
use rastrum::read::{Input, ReadError, ReadErrorKind, read};

use crate::odd_files::fixtures;

/// A small generator of the same numbers on every machine (xorshift, Marsaglia 2003).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % end.max(1) as u64) as usize
    }
}

const PIECES: [&[u8]; 16] = [
    b"<",
    b">",
    b"</part>",
    b"<part>",
    b"<!--",
    b"-->",
    b"<![CDATA[",
    b"]]>",
    b"\"",
    b"'",
    b"&amp;",
    b"&x;",
    b"<?x ?>",
    b"-",
    b"\0",
    b"\xff",
];

const LINES: [&[u8]; 10] = [
    b"<backup><duration>99</duration></backup>\n",
    b"<attributes><divisions>7</divisions><staves>3</staves></attributes>\n",
    b"<note><chord/><rest/><staff>9</staff></note>\n",
    b"<measure/>\n",
    b"<part id='P1'/>\n",
    b"<barline><repeat direction='backward'/></barline>\n",
    b"<barline location='left'><ending number='1' type='start'/></barline>\n",
    b"<sound tempo='1e9'/>\n",
    b"<forward><duration>9223372036854775807</duration></forward>\n",
    b"<![CDATA[</part>]]>\n",
];

/// Mostly whole lines, which are whole elements in the small files, so that many mutants stay well-formed.
fn mutant(bytes: &[u8], numbers: &mut Numbers) -> Vec<u8> {
    let mut mutant = bytes.to_vec();
    for _ in 0..=numbers.below(2) {
        if mutant.is_empty() {
            break;
        }
        let at = numbers.below(mutant.len());
        let line = mutant[..at].iter().rposition(|byte| *byte == b'\n').map_or(0, |end| end + 1);
        let next = mutant[at..].iter().position(|byte| *byte == b'\n').map_or(mutant.len(), |end| at + end + 1);
        match numbers.below(9) {
            0 => mutant[at] = numbers.below(256) as u8,
            1 => drop(mutant.splice(at..at, PIECES[numbers.below(PIECES.len())].iter().copied())),
            2 => drop(mutant.drain(at..(at + numbers.below(60)).min(mutant.len()))),
            3 => mutant.truncate(at),
            4 => drop(mutant.drain(line..next)),
            5 => {
                let copy = mutant[line..next].to_vec();
                let to = numbers.below(mutant.len());
                let to = mutant[to..].iter().position(|byte| *byte == b'\n').map_or(mutant.len(), |end| to + end + 1);
                drop(mutant.splice(to..to, copy));
            }
            6 | 7 => drop(mutant.splice(next..next, LINES[numbers.below(LINES.len())].iter().copied())),
            _ => {
                if let Some(digit) = mutant[at..].iter().position(u8::is_ascii_digit) {
                    mutant[at + digit] = b"0123456789-."[numbers.below(12)];
                }
            }
        }
    }
    mutant
}

fn is_about_xml(error: &ReadError) -> bool {
    use ReadErrorKind::{Malformed, NotXml, Truncated, UnknownEntity};
    matches!(error.kind, Malformed { .. } | NotXml | Truncated | UnknownEntity { .. })
}

#[test]
fn damaged_files_never_panic_and_are_accepted_only_when_the_whole_is_well_formed() {
    let seeds: Vec<Vec<u8>> = fixtures().into_iter().map(|(_, path)| std::fs::read(path).unwrap()).collect();
    let mut numbers = Numbers(0x5eed_cafe);
    let (start, mut tried, mut accepted) = (Instant::now(), 0, 0);
    while tried < 6_000 && (tried < 500 || start.elapsed() < Duration::from_secs(20)) {
        let bytes = mutant(&seeds[numbers.below(seeds.len())], &mut numbers);
        tried += 1;
        // Pieces of every size: no place of a cut may matter.
        let limits = Limits { bars: 2_000, cells: 20_000, piece_bytes: numbers.below(1_000), ..Limits::default() };
        let ours = read(&[Input { name: "mutant", bytes: &bytes }], &limits);
        let Ok(text) = std::str::from_utf8(&bytes) else { continue };
        let options = roxmltree::ParsingOptions { allow_dtd: true, ..roxmltree::ParsingOptions::default() };
        let whole = roxmltree::Document::parse_with_options(text, options);
        match (&ours, whole) {
            (Ok(_), Ok(_)) => accepted += 1,
            (Ok(_), Err(error)) => panic!("accepted, though the whole is broken ({error}): {text}"),
            (Err(errors), Ok(_)) => {
                assert!(!errors.iter().any(is_about_xml), "refused, though well-formed: {errors:?} {text}")
            }
            (Err(_), Err(_)) => {}
        }
    }
    // Both kinds occur, or the test would show nothing.
    assert!(accepted * 10 > tried && accepted * 10 < tried * 9, "{accepted} of {tried} accepted");
}
