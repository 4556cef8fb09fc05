//! The word a slip of the pen most likely meant.

/// The candidate fewest slips away from `word` (a letter more, less, other, or two exchanged), if they are
/// few for its length; the first of equals.
#[must_use]
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let letters = word.chars().count();
    if letters > LONGEST {
        return None;
    }
    let most = (letters / 3).max(2);
    let scored = candidates.into_iter().map(|candidate| (slips(word, candidate), candidate));
    scored.filter(|(slips, _)| *slips <= most).min_by_key(|(slips, _)| *slips).map(|(_, candidate)| candidate)
}

pub(super) fn did_you_mean(name: &str) -> String {
    format!("did you mean \"{name}\"?")
}

/// "it has part-floor, score-floor".
pub(super) fn listed<'a>(words: &str, names: impl Iterator<Item = &'a str>) -> String {
    format!("{words} {}", names.collect::<Vec<_>>().join(", "))
}

/// No name in a sheet is longer; the comparison takes time with the square of it.
const LONGEST: usize = 100;

/// The edit distance with exchanged neighbours, row by row.
fn slips(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut above: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    let mut last = None;
    for (i, letter) in one.chars().enumerate() {
        let mut next = vec![i + 1];
        let mut left = i + 1;
        let mut before = None;
        for (j, &there) in other.iter().enumerate() {
            let at = |row: &[usize], j: usize| row.get(j).copied().unwrap_or(usize::MAX - 1);
            let mut least = (at(&row, j) + usize::from(letter != there)).min(at(&row, j + 1) + 1).min(left + 1);
            if last == Some(there) && before == Some(letter) {
                least = least.min(at(&above, j - 1) + 1);
            }
            next.push(least);
            left = least;
            before = Some(there);
        }
        above = std::mem::replace(&mut row, next);
        last = Some(letter);
    }
    row.last().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_a_letter_more_less_other_or_two_exchanged() {
        assert_eq!(slips("staff", "staff"), 0);
        assert_eq!(slips("staf", "staff"), 1);
        assert_eq!(slips("stafff", "staff"), 1);
        assert_eq!(slips("stavf", "staff"), 1);
        assert_eq!(slips("satff", "staff"), 1);
        assert_eq!(slips("", "staff"), 5);
        assert_eq!(slips("score", ""), 5);
    }

    #[test]
    fn the_nearest_name_is_offered_only_when_it_is_near() {
        let rules = ["staff-too-small", "staves-too-close"];
        assert_eq!(nearest("staff-to-smal", rules), Some("staff-too-small"));
        assert_eq!(nearest("cold-entry", rules), None);
        assert_eq!(nearest(&"x".repeat(1000), rules), None);
    }
}
