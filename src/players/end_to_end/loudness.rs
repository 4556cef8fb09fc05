//! How loud a line has been told to play: pppp -4 ... p -1, mp and mf 0, f 1 ... ffff 4.

use crate::score::{Cell, MarkKind};
use crate::units::Fraction;

/// The loudness that a dynamic leaves in force; `None` for accents (sfz, rf) and for what is only a shade of another
/// ("poco f"). Of "fp" the p lasts.
pub(super) fn lasting(text: &str) -> Option<i8> {
    if text.contains("poco") || text.contains("meno") {
        return None;
    }
    text.split_whitespace().find_map(word)
}

fn word(text: &str) -> Option<i8> {
    let text = text.trim_matches(|letter: char| !letter.is_ascii_alphabetic());
    if text.is_empty() || !text.chars().all(|letter| "pmfszr".contains(letter)) {
        return None;
    }
    let (before, soft) = without_end(text, 'p');
    if soft > 0 {
        // "mp" is a dynamic of its own; before any other p stands an attack, or nothing.
        return Some(if before == "m" { 0 } else { -soft });
    }
    match without_end(text, 'f') {
        ("", loud) => Some(loud),
        ("m", _) => Some(0),
        ("p", loud) => Some(loud),
        _ => None,
    }
}

/// What stands before the last letters of a kind, and how many they are: at most four.
fn without_end(text: &str, letter: char) -> (&str, i8) {
    let before = text.trim_end_matches(letter);
    let count = text.len().saturating_sub(before.len()).min(4);
    (before, i8::try_from(count).unwrap_or(4))
}

/// The loudness after the marks of one bar on all staves of a line up to an onset (with those at the onset itself), where
/// it was `before`. Of marks at one onset the loudest counts.
pub(super) fn until(cells: &[&Cell], onset: Fraction, before: Option<i8>) -> Option<i8> {
    let marks = cells.iter().flat_map(|cell| &cell.marks).filter(|mark| mark.onset <= onset);
    let told = marks.filter_map(|mark| match &mark.kind {
        MarkKind::Dynamic(text) => lasting(text).map(|level| (mark.onset, level)),
        _ => None,
    });
    told.max().map_or(before, |(_, level)| Some(level))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dynamic_leaves_its_lasting_part() {
        let levels = ["pppp", "ppp", "pp", "p", "mp", "mf", "f", "ff", "fff", "ffff"].map(lasting);
        assert_eq!(levels.map(Option::unwrap), [-4, -3, -2, -1, 0, 0, 1, 2, 3, 4]);
        assert_eq!(["fp", "sfp", "mfp", "ffpp", "pf"].map(lasting), [-1, -1, -1, -2, 1].map(Some));
        assert_eq!(["sf", "sfz", "fz", "sffz", "rf", "rfz", "n", "", "poco f"].map(lasting), [None; 9]);
        assert_eq!(["f sempre", "sempre pp", "ppppppp", "(mf)"].map(lasting), [1, -2, -4, 0].map(Some));
    }
}
