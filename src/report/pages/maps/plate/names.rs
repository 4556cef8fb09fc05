//! Instruments' abbreviations at the left of a system, when there is room for them.

use crate::geometry::Rect;
use crate::layout::System;
use crate::place::PartId;
use crate::report::pdf::{Face, cap_height, text_width};
use crate::score::{Part, Score};
use crate::units::Mm;

use super::super::view::View;
use super::super::{Subject, pens};
use super::brackets;
use super::labels::{Label, Style};

/// Staves closer than this, on the sheet, leave no room for names beside them.
const CLOSEST: Mm = Mm(2.0);
/// Names shorter than this say nothing.
const LEAST: Mm = Mm(3.0);

/// Names of all parts of a system, or none.
#[must_use]
pub fn of(subject: &Subject<'_>, system: &System, view: &View) -> Vec<Label> {
    let right = view.x(system.rect.left) - brackets::ROOM - Mm(0.4);
    let room = right - view.paper.left - Mm(0.6);
    let rows = rows(subject.score, system, view);
    let crowded = rows.windows(2).any(|pair| matches!(pair, [upper, lower] if lower.1 - upper.1 < CLOSEST));
    if crowded || room < LEAST {
        return Vec::new();
    }
    rows.into_iter()
        .filter_map(|(part, middle)| label(subject.score.parts.get(part.at())?, middle, right, room))
        .collect()
}

fn label(part: &Part, middle: Mm, right: Mm, room: Mm) -> Option<Label> {
    let text = shortened(part, room)?;
    let height = cap_height(Face::Regular, pens::SMALL);
    let width = text_width(Face::Regular, pens::SMALL, &text);
    let area = Rect::new(right - width, middle - height / 2.0, right, middle + height / 2.0);
    Some(Label { text, style: Style::Name, area })
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

/// The printed abbreviation, else the name, cut to the room there is.
fn shortened(part: &Part, room: Mm) -> Option<String> {
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let full = if part.abbreviation.trim().is_empty() { words(&part.name) } else { words(&part.abbreviation) };
    let fits = |text: &str| text_width(Face::Regular, pens::SMALL, text) <= room;
    if full.is_empty() {
        return None;
    }
    if fits(&full) {
        return Some(full);
    }
    let letters: Vec<char> = full.chars().collect();
    (2..letters.len()).rev().find_map(|count| {
        let cut: String = letters.iter().take(count).collect();
        let cut = format!("{}.", cut.trim_end_matches([' ', '.', ',']));
        fits(&cut).then_some(cut)
    })
}
