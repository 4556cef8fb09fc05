//! Words made comparable: small letters, no accents, no punctuation.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// "Vln. I", "Flauto piccolo", "Große Trommel" become "vln i", "flauto piccolo", "grosse trommel".
pub(super) fn fold(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    for c in text.nfd().filter(|c| !is_combining_mark(*c)) {
        match c {
            '\u{df}' => folded.push_str("ss"),
            '\u{153}' => folded.push_str("oe"),
            _ if c.is_alphanumeric() => folded.extend(c.to_lowercase()),
            _ if folded.is_empty() || folded.ends_with(' ') => {}
            _ => folded.push(' '),
        }
    }
    folded.truncate(folded.trim_end().len());
    folded
}

#[cfg(test)]
mod tests {
    use super::fold;

    #[test]
    fn case_accents_and_points_do_not_count() {
        assert_eq!(fold(" Gro\u{df}e  Trommel "), "grosse trommel");
        assert_eq!(fold("Acc\u{e9}l\u{e9}rez!"), "accelerez");
        assert_eq!(fold("Vln. I"), "vln i");
        assert_eq!(fold("G.P."), "g p");
    }
}
