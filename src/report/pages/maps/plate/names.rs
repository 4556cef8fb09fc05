//! Instruments' abbreviations at the left of a system, when there is room for them.

use std::collections::BTreeSet;

use super::super::view::View;
use super::super::{Subject, pens};
use super::brackets;
use super::labels::{Label, Style};
use crate::geometry::Rect;
use crate::layout::System;
use crate::place::PartId;
use crate::report::pdf::{Face, cap_height, text_width};
use crate::score::{Part, Score};
use crate::units::Mm;

/// Staves closer than this, on the sheet, leave no room for names beside them.
const CLOSEST: Mm = Mm(2.0);
/// Names shorter than this say nothing.
const LEAST: Mm = Mm(3.0);

/// Names of all parts of a system, or none: a row of names with gaps, or with two alike that are not, misleads.
///
/// Where the file tells that later systems bear no names, none are drawn that the page does not have.
#[must_use]
pub fn of(subject: &Subject<'_>, system: &System, view: &View) -> Vec<Label> {
    if subject.layout.told.names_on_later_systems == Some(false) && !begins_movement(subject.score, system) {
        return Vec::new();
    }
    let right = view.x(system.rect.left) - brackets::ROOM - Mm(0.4);
    let room = right - view.paper.left - Mm(0.6);
    let rows = rows(subject.score, system, view);
    let crowded = rows.windows(2).any(|pair| matches!(pair, [upper, lower] if lower.1 - upper.1 < CLOSEST));
    if crowded || room < LEAST {
        return Vec::new();
    }
    let mut labels = Vec::new();
    let mut cut = BTreeSet::new();
    for (part, middle) in rows {
        let Some(part) = subject.score.parts.get(part.at()) else { continue };
        let full = full(part);
        let Some(text) = shortened(&full, room) else { return Vec::new() };
        if text != full && !cut.insert(text.clone()) {
            return Vec::new();
        }
        labels.push(label(text, middle, right));
    }
    labels
}

fn begins_movement(score: &Score, system: &System) -> bool {
    system.span().is_some_and(|span| score.movements.iter().any(|movement| movement.bars.first == span.first))
}

fn label(text: String, middle: Mm, right: Mm) -> Label {
    let height = cap_height(Face::Regular, pens::SMALL);
    let width = text_width(Face::Regular, pens::SMALL, &text);
    let area = Rect::new(right - width, middle - height / 2.0, right, middle + height / 2.0);
    Label { text, style: Style::Name, area }
}

/// Each part shown, with the middle of its staves on the sheet.
fn rows(score: &Score, system: &System, view: &View) -> Vec<(PartId, Mm)> {
    let mut rows: Vec<(PartId, Mm, Mm)> = Vec::new();
    for staff in &system.staves {
        let Some(part) = staff.staff.and_then(|id| score.staves.get(id.at())).map(|staff| staff.part) else { continue };
        let (top, bottom) = (view.y(staff.top), view.y(staff.top + staff.height));
        match rows.last_mut() {
            Some(row) if row.0 == part => row.2 = bottom,
            _ => rows.push((part, top, bottom)),
        }
    }
    rows.into_iter().map(|(part, top, bottom)| (part, (top + bottom) / 2.0)).collect()
}

/// The printed abbreviation, else the name.
fn full(part: &Part) -> String {
    let text = if part.abbreviation.trim().is_empty() { &part.name } else { &part.abbreviation };
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The name cut to the room there is, but not its number: "Violin II" becomes "Vio. II"; `None` when too little is left.
fn shortened(full: &str, room: Mm) -> Option<String> {
    let fits = |text: &str| text_width(Face::Regular, pens::SMALL, text) <= room;
    if fits(full) {
        return Some(full.to_owned());
    }
    let is_number =
        |word: &str| word.chars().all(|char| char.is_ascii_digit() || matches!(char, 'I' | 'V' | '.' | ','));
    let (name, number) = match full.rsplit_once(' ') {
        Some((name, number)) if is_number(number) => (name, format!(" {number}")),
        _ => (full, String::new()),
    };
    let letters: Vec<char> = name.chars().collect();
    (2..letters.len()).rev().find_map(|count| {
        let begin: String = letters.iter().take(count).collect();
        let cut = format!("{}.{number}", begin.trim_end_matches([' ', '.', ',']));
        fits(&cut).then_some(cut)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_cut_but_its_number_stays() {
        assert_eq!(shortened("Violin II", Mm(20.0)).as_deref(), Some("Violin II"));
        assert_eq!(shortened("Violin II", Mm(5.0)).as_deref(), Some("Vio. II"));
        assert_eq!(shortened("Violoncello", Mm(5.5)).as_deref(), Some("Violo."));
        assert_eq!(shortened("Violoncello", Mm(1.0)), None);
    }
}
