//! What is written in by hand.

use super::document;
use crate::check::Compared;
use crate::compare::Erratum;
use crate::words::listed;

/// The errata slip: "Clarinet 2, bar 143, beat 3: F sharp for F".
#[must_use]
pub fn slip(compared: &Compared) -> Vec<String> {
    let Some((old, _)) = compared.sides() else { return Vec::new() };
    let score = &old.checked.score;
    let mut lines: Vec<(String, Vec<String>)> = Vec::new();
    for own in &compared.reprint {
        for erratum in &own.sheets.errata {
            let comma = if erratum.onset.is_some() { ", " } else { ": " };
            let text = format!("bar {}{comma}{}", score.place_label(erratum.old_bar), erratum.text);
            let who = document(own.reader, compared);
            match lines.iter_mut().find(|(known, _)| *known == text) {
                Some((_, names)) => names.push(who),
                None => lines.push((text, vec![who])),
            }
        }
    }
    lines.into_iter().map(|(text, names)| format!("{}, {text}", listed(names))).collect()
}

/// The same by player: "Bar 143, beat 3: F sharp for F".
#[must_use]
pub fn slip_by_player(compared: &Compared) -> Vec<(String, Vec<String>)> {
    let Some((old, _)) = compared.sides() else { return Vec::new() };
    let score = &old.checked.score;
    let line = |erratum: &Erratum| {
        let comma = if erratum.onset.is_some() { ", " } else { ": " };
        format!("Bar {}{comma}{}", score.place_label(erratum.old_bar), erratum.text)
    };
    let touched = compared.reprint.iter().filter(|own| !own.sheets.errata.is_empty());
    touched.map(|own| (document(own.reader, compared), own.sheets.errata.iter().map(line).collect())).collect()
}
