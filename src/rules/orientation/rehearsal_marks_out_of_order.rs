//! Rehearsal marks that occur twice, skip or run backwards.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::BarSpan;
use crate::rules::orientation::marks::Mark;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Which letters may be passed over.
pub(in crate::rules) struct RehearsalMarksOutOfOrder {
    skipped_letters: Limit<String>,
}

/// A mark as a place in its row: letters from A = 1, doubled letters after Z, or numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Rung {
    Letter(u32),
    Number(u32),
}

impl Rule for RehearsalMarksOutOfOrder {
    const NAME: &'static str = "rehearsal-marks-out-of-order";
    const SERVES_OUTLINES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(RehearsalMarksOutOfOrder { skipped_letters: limits.take("skipped-letters")? })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let movements = case.marks_by_movement();
        Outcome::Ran(movements.iter().flat_map(|(_, marks)| self.in_movement(case, marks)).collect())
    }
}

impl RehearsalMarksOutOfOrder {
    fn in_movement(&self, case: &Case<'_>, marks: &[Mark<'_>]) -> Vec<Finding> {
        // Bar numbers used as marks are in order by nature, and have holes by nature.
        let named: Vec<Mark<'_>> =
            marks.iter().copied().filter(|mark| mark.text != case.score.label(mark.bar)).collect();
        let pairs = named.iter().zip(named.iter().skip(1));
        pairs.filter_map(|(one, next)| self.between(case, &named, *one, *next)).collect()
    }

    fn between(&self, case: &Case<'_>, all: &[Mark<'_>], one: Mark<'_>, next: Mark<'_>) -> Option<Finding> {
        let earlier = all.iter().find(|mark| mark.bar < next.bar && mark.text == next.text);
        let what = match (earlier, rung(one.text), rung(next.text)) {
            (Some(earlier), ..) => format!(
                "The rehearsal mark {} stands at {} and again at {}.",
                next.text,
                case.bar_words(earlier.bar),
                case.bar_words(next.bar)
            ),
            (None, Some(from), Some(to)) if !self.follows(from, to) => {
                format!("At {} the rehearsal mark {} follows {}.", case.bar_words(next.bar), next.text, one.text)
            }
            _ => return None,
        };
        let key = case.key(Self::NAME, Scope::Bar, None, Some(next.bar));
        let finding = Finding::unlimited(self.skipped_letters.weight, key, format!("{} after {}", next.text, one.text));
        let places = earlier.into_iter().map(|mark| mark.bar).chain([next.bar]);
        Some(
            finding
                .asks("each mark once, in order")
                .at(places.map(|bar| case.on_bars(BarSpan::one(bar), &[])).collect())
                .says(what),
        )
    }

    /// Whether `to` is the next mark after `from`, letters that may be passed over left aside.
    fn follows(&self, from: Rung, to: Rung) -> bool {
        match (from, to) {
            (Rung::Number(from), Rung::Number(to)) => to == from.saturating_add(1),
            (Rung::Letter(from), Rung::Letter(to)) => {
                to > from && (from.saturating_add(1)..to).all(|passed| self.may_be_passed_over(passed))
            }
            // A row may change from letters to numbers.
            _ => true,
        }
    }

    fn may_be_passed_over(&self, letter: u32) -> bool {
        let allowed: &str = &self.skipped_letters.value;
        match (letter - 1) % 26 {
            // I; J, too, which older alphabets do not know.
            8 | 9 => allowed.starts_with('I'),
            14 => allowed.ends_with('O'),
            _ => false,
        }
    }
}

fn rung(text: &str) -> Option<Rung> {
    if let Ok(number) = text.parse() {
        return Some(Rung::Number(number));
    }
    let first = text.chars().next().filter(char::is_ascii_uppercase)?;
    let length = u32::try_from(text.len()).ok()?;
    let is_doubled = text.chars().all(|letter| letter == first) && length <= 3;
    is_doubled.then(|| Rung::Letter((length - 1) * 26 + u32::from(first) - u32::from('A') + 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doubled_letters_go_on_where_the_alphabet_ends() {
        assert_eq!(rung("A"), Some(Rung::Letter(1)));
        assert_eq!(rung("Z"), Some(Rung::Letter(26)));
        assert_eq!(rung("AA"), Some(Rung::Letter(27)));
        assert_eq!(rung("12"), Some(Rung::Number(12)));
    }

    #[test]
    fn words_are_no_part_of_the_row() {
        for word in ["", "Coda", "AB", "a", "1a", "é"] {
            assert_eq!(rung(word), None, "{word}");
        }
    }

    #[test]
    fn i_and_j_and_o_may_be_passed_over_by_habit() {
        let guidelines = Guidelines::load(&crate::guidelines::Request::default()).unwrap();
        let rule = RehearsalMarksOutOfOrder::with(&guidelines).unwrap();
        let follows = |from: &str, to: &str| rule.follows(rung(from).unwrap(), rung(to).unwrap());
        assert!(follows("H", "J") && follows("H", "K") && follows("N", "P"));
        assert!(!follows("B", "D") && !follows("C", "B") && !follows("C", "C"));
    }
}
