//! Words at a shared staff that say who plays: "a 2", "1.", "zu 2", "solo", "unis.". Common practice.

use crate::place::StaffId;
use crate::players::words::folded;
use crate::score::{MarkKind, Score};

/// Who plays from here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Who {
    All,
    /// Numbers as the words say them.
    Only(Vec<u32>),
    /// Each a line of its own.
    Divided,
}

const ALL: &[&str] = &[
    "a 2",
    "a2",
    "a due",
    "a deux",
    "zu 2",
    "zu2",
    "zu zweit",
    "a 3",
    "a3",
    "zu 3",
    "a tre",
    "a 4",
    "a4",
    "zu 4",
    "unis",
    "unisono",
    "unison",
    "tutti",
    "beide",
    "both",
    "tous",
    "tous les deux",
    "alle",
];
const DIVIDED: &[&str] = &["div", "divisi", "getrennt", "geteilt", "divises"];
const FIRST: &[&str] =
    &["primo", "prima", "erste", "erster", "premier", "first", "solo", "1 solo", "solo 1", "i solo", "solo i"];
const SECOND: &[&str] = &["secondo", "seconda", "zweite", "zweiter", "deuxieme", "second", "2 solo", "ii solo"];

/// What words say of who plays; `None` when they say nothing of it. "Solo" alone is the first player.
pub(super) fn says(words: &str, numbers: &[u32]) -> Option<Who> {
    let folded = folded(words);
    let begins = |phrases: &[&str]| {
        phrases.iter().any(|own| folded.strip_prefix(own).is_some_and(|rest| rest.is_empty() || rest.starts_with(' ')))
    };
    if begins(ALL) {
        return Some(Who::All);
    }
    if begins(DIVIDED) {
        return Some(Who::Divided);
    }
    let first = numbers.first().copied().unwrap_or(1);
    if begins(FIRST) {
        return Some(Who::Only(vec![first]));
    }
    if begins(SECOND) {
        return Some(Who::Only(vec![first + 1]));
    }
    let called: Option<Vec<u32>> =
        folded.split([' ', '/', '+', '&']).filter(|word| !word.is_empty()).map(number).collect();
    let called = called.filter(|called| !called.is_empty() && called.iter().all(|number| numbers.contains(number)))?;
    Some(if called.len() == numbers.len() { Who::All } else { Who::Only(called) })
}

/// Whether words only say who plays: "a 2", "1.", "div.".
#[must_use]
pub fn is_who_plays(words: &str) -> bool {
    says(words, &[1, 2, 3, 4]).is_some()
}

fn number(word: &str) -> Option<u32> {
    const ROMAN: [&str; 6] = ["i", "ii", "iii", "iv", "v", "vi"];
    let digits = word
        .trim_end_matches(['o', 'a', 'e', '\u{b0}'])
        .trim_end_matches("st")
        .trim_end_matches("nd")
        .trim_end_matches("rd");
    let roman = ROMAN.iter().position(|numeral| *numeral == word).map(|at| at as u32 + 1);
    roman.or_else(|| digits.parse().ok()).filter(|number| (1..=8).contains(number))
}

/// How many players the words and voices of a staff tell of, at the most.
pub(super) fn most_named(score: &Score, staff: StaffId) -> u32 {
    const MANY: u32 = 4;
    let numbers: Vec<u32> = (1..=MANY).collect();
    let words = score.cells.iter().skip(staff.at()).step_by(score.staves.len().max(1));
    let told = words.flat_map(|cell| &cell.marks).filter_map(|mark| {
        let MarkKind::Words(text) = &mark.kind else { return None };
        match says(text, &numbers)? {
            Who::All => {
                let digits: String = text.chars().filter(char::is_ascii_digit).collect();
                Some(digits.parse().unwrap_or(2).clamp(2, MANY))
            }
            Who::Only(called) => called.into_iter().max().filter(|number| *number > 1),
            Who::Divided => None,
        }
    });
    told.max().unwrap_or(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_in_four_languages_say_who_plays() {
        let pair = [1, 2];
        for words in ["a 2", "a2.", "\u{e0} 2", "zu 2", "unis.", "a due", "Tutti", "1. 2.", "I. II."] {
            assert_eq!(says(words, &pair), Some(Who::All), "{words}");
        }
        for words in ["1.", "I.", "Solo", "1. Solo", "1o", "primo"] {
            assert_eq!(says(words, &pair), Some(Who::Only(vec![1])), "{words}");
        }
        assert_eq!(says("2.", &pair), Some(Who::Only(vec![2])));
        assert_eq!(says("3.", &[3, 4]), Some(Who::Only(vec![3])));
        assert_eq!(says("solo", &[3, 4]), Some(Who::Only(vec![3])));
        assert_eq!(says("div.", &pair), Some(Who::Divided));
        for words in ["dolce", "p", "in A", "cresc.", "3.", "sempre pp"] {
            assert_eq!(says(words, &pair), None, "{words}");
        }
    }
}
