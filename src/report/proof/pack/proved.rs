//! What a reader need not count again.

use crate::check::ProofedPart;
use crate::proof::Class;
use crate::report::proof::words::compared;
use crate::words::counted;

/// What was compared, in groups that a reader thinks in.
const GROUPS: [(&str, &[Class]); 5] = [
    (
        "bars, rests and repeats",
        &[
            Class::MissingBars,
            Class::ExtraBars,
            Class::RestCount,
            Class::RestAcrossLandmark,
            Class::BarNumbers,
            Class::Repeat,
            Class::Barline,
        ],
    ),
    (
        "notes, ties, keys and metres",
        &[
            Class::Metre,
            Class::Key,
            Class::Passage,
            Class::Pitch,
            Class::Length,
            Class::Place,
            Class::MissingNote,
            Class::ExtraNote,
            Class::Tie,
        ],
    ),
    ("landmarks, tempos and pauses", &[Class::Landmark, Class::Tempo, Class::Pause]),
    ("dynamics, hairpins and words", &[Class::Dynamic, Class::Hairpin, Class::Words, Class::SungText]),
    ("articulation, slurs, ornaments and cues", &[Class::Articulation, Class::Slur, Class::Ornament, Class::Cue]),
];

/// One line a group: "Notes, ties, keys and metres: compared, none differ."
pub(super) fn lines(part: &ProofedPart) -> Vec<String> {
    let (bars, notes) = compared(part);
    let all = || part.files.iter().flat_map(|file| &file.proof.differences);
    let mut lines = vec![format!(
        "{} and {} held against the score.",
        counted(bars as usize, "bar"),
        counted(notes as usize, "note")
    )];
    for (name, classes) in GROUPS {
        let name = crate::words::sentence(name);
        lines.push(match all().filter(|own| classes.contains(&own.class)).count() {
            0 => format!("{name}: compared, none differ."),
            1 => format!("{name}: compared, one difference; see the list of this part."),
            many => format!("{name}: compared, {many} differences; see the list of this part."),
        });
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_class_stands_in_one_group() {
        for class in Class::ALL {
            let groups = GROUPS.iter().filter(|(_, classes)| classes.contains(&class)).count();
            assert_eq!(groups, 1, "{}", class.name());
        }
    }
}
