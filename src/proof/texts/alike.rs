//! When two texts say the same.

use crate::players::{Hands, asks, folded};

/// The same words, or one of them abbreviated, or the same instruction in another form.
pub(super) fn alike(one: &str, other: &str) -> bool {
    if one == other {
        return true;
    }
    let (a, b) = (folded(one), folded(other));
    if a == b {
        return true;
    }
    let asked = asks(one, Hands::Unknown);
    if asked.is_some() && asked == asks(other, Hands::Unknown) {
        return a.split(' ').count() == b.split(' ').count();
    }
    let (a, b): (Vec<&str>, Vec<&str>) = (words(one), words(other));
    a.len() == b.len() && a.iter().zip(&b).all(|(a, b)| word_alike(a, b))
}

fn words(text: &str) -> Vec<&str> {
    text.split_whitespace().collect()
}

/// "espr." is "espressivo"; without a full stop a beginning is another word.
fn word_alike(one: &str, other: &str) -> bool {
    const SHORTEST: usize = 3;
    let (a, b) = (folded(one), folded(other));
    let shortens =
        |mark: &str, short: &str, long: &str| mark.ends_with('.') && short.len() >= SHORTEST && long.starts_with(short);
    a == b || shortens(one, &a, &b) || shortens(other, &b, &a)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn abbreviations_are_the_same_words_and_other_words_are_not() {
        for (one, other) in [
            ("pizz", "pizz."),
            ("espr.", "espressivo"),
            ("con sord.", "con sordino"),
            ("poco cresc.", "poco crescendo"),
            ("Dolce", "dolce"),
            ("mit D\u{e4}mpfer", "mit Dampfer"),
        ] {
            assert!(alike(one, other), "{one}, {other}");
        }
        for (one, other) in [("con sord.", "senza sord."), ("cresc.", "cresc. molto"), ("p", "pizz."), ("dol", "dolce")]
        {
            assert!(!alike(one, other), "{one}, {other}");
        }
    }
}
