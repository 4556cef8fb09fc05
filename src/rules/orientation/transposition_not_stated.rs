//! Scores that do not say whether they are written in C.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{BarIdx, PageIdx, Place, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::words::listed;

/// "Transposed score", or keys in the names of transposing instruments.
pub(in crate::rules) struct TranspositionNotStated {
    weight: Weight,
}

/// Words of such a statement, in lower case.
const STATED: &[&str] =
    &["transposed", "transposing", "transponier", "in c", "concert pitch", "klingend", "sounding pitch", "at pitch"];
/// Keys as instruments' names bear them, in the languages that scores are printed in.
const KEYS: &[&str] = &[
    "A", "B", "Bb", "B♭", "C", "D", "Db", "D♭", "Des", "E", "Eb", "E♭", "Es", "F", "G", "Ab", "A♭", "As", "H", "Do",
    "Ut", "Re", "Ré", "Reb", "Mi", "Mib", "Mi♭", "Fa", "Sol", "La", "Lab", "Si", "Sib", "Si♭", "flat",
];

impl Rule for TranspositionNotStated {
    const NAME: &'static str = "transposition-not-stated";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(TranspositionNotStated { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let silent = transposing(case);
        if silent.iter().any(|staff| names_its_key(case, *staff)) {
            return Outcome::Ran(Vec::new());
        }
        let texts: Vec<String> = case.score.credits.iter().map(|credit| credit.text.to_lowercase()).collect();
        let Some(first) = silent.first().copied() else { return Outcome::Ran(Vec::new()) };
        if texts.is_empty() {
            return Outcome::CouldNotRun("the words printed on the first page".to_owned());
        }
        if texts.iter().any(|text| STATED.iter().any(|word| text.contains(word))) {
            return Outcome::Ran(Vec::new());
        }
        let names = listed(silent.iter().map(|staff| case.staff_words(*staff)));
        let verb = if silent.len() == 1 { "transposes" } else { "transpose" };
        let message =
            format!("{names} {verb}, and nothing says so: neither the names nor a line such as \"Transposed score\".");
        let place = Place { staves: silent, ..case.on_page(PageIdx(0)) };
        let finding =
            Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, Some(first), None), "not stated")
                .asks("\"Transposed score\" or \"Score in C\"")
                .at(vec![place])
                .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// The upper staves of parts that sound at other notes than they are written, octaves aside.
fn transposing(case: &Case<'_>) -> Vec<StaffId> {
    let staves = case.score.staves.iter().enumerate().filter(|(_, staff)| staff.number == 1);
    let ids = staves.filter_map(|(at, _)| u16::try_from(at).ok()).map(StaffId);
    let transposes = |staff: &StaffId| {
        let cell = case.score.cell(BarIdx(0), *staff);
        cell.is_some_and(|cell| !cell.transposition.is_at_pitch_class())
    };
    ids.filter(transposes).collect()
}

fn names_its_key(case: &Case<'_>, staff: StaffId) -> bool {
    let Some(part) = case.score.part_of(staff) else { return false };
    let names = std::iter::once(&part.name).chain(&part.instruments);
    let mut words = names.flat_map(|name| name.split(|c: char| !(c.is_alphanumeric() || c == '♭' || c == '♯')));
    words.any(|word| KEYS.contains(&word))
}
