//! Brackets and braces at the left of a system, and which staves belong together.

use crate::geometry::Rect;
use crate::layout::System;
use crate::place::StaffId;
use crate::report::pdf::{Ink, Paint, Path, at};
use crate::score::{GroupSymbol, Score};
use crate::units::Mm;

use super::super::pens;
use super::super::view::View;

/// Room that brackets and braces take left of a system, on the sheet.
pub const ROOM: Mm = Mm(1.9);

/// The box that the brackets of a system stand in.
#[must_use]
pub fn area(system: &System, view: &View) -> Rect {
    let rect = view.rect(&system.rect);
    Rect::new(rect.left - ROOM, rect.top - Mm(0.5), rect.left, rect.bottom + Mm(0.5))
}

pub fn draw(ink: &mut Ink<'_>, score: &Score, system: &System, view: &View) {
    let left = view.x(system.rect.left);
    let spans = spans(score, system);
    for (first, last) in &spans {
        let Some((top, bottom)) = ends(system, view, *first, *last) else { continue };
        let holds = |(other, end): &&(usize, usize)| other <= first && last <= end && (other, end) != (first, last);
        match spans.iter().find(holds) {
            Some(_) => sub_bracket(ink, left - Mm(1.4), top, bottom),
            None => bracket(ink, left - Mm(0.7), top, bottom),
        }
    }
    for (first, last) in braces(score, system) {
        let Some((top, bottom)) = ends(system, view, first, last) else { continue };
        brace(ink, left - Mm(1.5), top, bottom);
    }
}

/// Whether barlines run through from this staff of a system to the next one down.
#[must_use]
pub fn joined(score: &Score, system: &System, upper: usize) -> bool {
    let staff = |at: usize| system.staves.get(at).and_then(|staff| staff.staff);
    let (Some(one), Some(other)) = (staff(upper), staff(upper + 1)) else { return false };
    let part = |id: StaffId| score.staves.get(id.at()).map(|staff| staff.part);
    let (Some(one), Some(other)) = (part(one), part(other)) else { return false };
    if one == other {
        return true;
    }
    let told: Vec<bool> = score
        .groups
        .iter()
        .filter(|group| group.first <= one && other <= group.last)
        .filter_map(|group| group.joins_barlines)
        .collect();
    if told.is_empty() { same_family(score, one.at(), other.at()) } else { told.contains(&true) }
}

fn same_family(score: &Score, one: usize, other: usize) -> bool {
    let family = |at: usize| score.parts.get(at).map(|part| part.family);
    family(one) == family(other)
}

/// First and last staff of each bracket, by position in the system; by family when the score tells of none.
fn spans(score: &Score, system: &System) -> Vec<(usize, usize)> {
    let brackets: Vec<(usize, usize)> = score
        .groups
        .iter()
        .filter(|group| matches!(group.symbol, GroupSymbol::Bracket | GroupSymbol::Square | GroupSymbol::Line))
        .filter_map(|group| shown(score, system, |part| group.first.at() <= part && part <= group.last.at()))
        .collect();
    if !brackets.is_empty() || !score.groups.is_empty() {
        return brackets;
    }
    let family = |at: usize| score.parts.get(at).map(|part| part.family);
    let parts: Vec<usize> = system.staves.iter().filter_map(|staff| part_at(score, staff.staff?)).collect();
    parts
        .chunk_by(|one, other| family(*one) == family(*other))
        .filter_map(|run| shown(score, system, |part| run.contains(&part)))
        .collect()
}

/// Keyboards and harps, and whatever the score braces together.
fn braces(score: &Score, system: &System) -> Vec<(usize, usize)> {
    let grouped = score
        .groups
        .iter()
        .filter(|group| group.symbol == GroupSymbol::Brace)
        .filter_map(|group| shown(score, system, |part| group.first.at() <= part && part <= group.last.at()));
    let parts: Vec<usize> = system.staves.iter().filter_map(|staff| part_at(score, staff.staff?)).collect();
    let own = parts
        .chunk_by(|one, other| one == other)
        .filter(|run| run.len() > 1)
        .filter_map(|run| shown(score, system, |part| run.first() == Some(&part)));
    let mut braces: Vec<(usize, usize)> = grouped.chain(own).filter(|(first, last)| first < last).collect();
    braces.sort_unstable();
    braces.dedup();
    braces
}

/// Where the staves of some parts begin and end in a system; `None` when none is shown.
fn shown(score: &Score, system: &System, wanted: impl Fn(usize) -> bool) -> Option<(usize, usize)> {
    let is_wanted = |at: &usize| {
        let staff = system.staves.get(*at).and_then(|staff| staff.staff);
        staff.and_then(|id| part_at(score, id)).is_some_and(&wanted)
    };
    let first = (0..system.staves.len()).find(is_wanted)?;
    let last = (0..system.staves.len()).rev().find(is_wanted)?;
    Some((first, last))
}

fn part_at(score: &Score, staff: StaffId) -> Option<usize> {
    score.staves.get(staff.at()).map(|staff| staff.part.at())
}

fn ends(system: &System, view: &View, first: usize, last: usize) -> Option<(Mm, Mm)> {
    let (first, last) = (system.staves.get(first)?, system.staves.get(last)?);
    Some((view.y(first.top), view.y(last.top + last.height)))
}

fn bracket(ink: &mut Ink<'_>, x: Mm, top: Mm, bottom: Mm) {
    let out = Mm(0.35);
    ink.rect(Rect::new(x - Mm(0.15), top - out, x + Mm(0.15), bottom + out), &Paint::fill(pens::ink_grey()));
    for (y, tip) in [(top - out, -out), (bottom + out, out)] {
        let end = at(x + Mm(0.8), y + tip * 0.7);
        let path = Path::from(at(x - Mm(0.15), y)).curve(at(x + Mm(0.3), y), at(x + Mm(0.6), y + tip * 0.3), end);
        ink.path(&path, &Paint::stroke(pens::barline()));
    }
}

/// A thin square bracket outside the family's, for like instruments.
fn sub_bracket(ink: &mut Ink<'_>, x: Mm, top: Mm, bottom: Mm) {
    let tip = Mm(0.5);
    let path = Path::from(at(x + tip, top)).line(at(x, top)).line(at(x, bottom)).line(at(x + tip, bottom));
    ink.path(&path, &Paint::stroke(pens::barline()));
}

fn brace(ink: &mut Ink<'_>, x: Mm, top: Mm, bottom: Mm) {
    let (middle, depth) = ((top + bottom) / 2.0, Mm(0.7));
    let path = Path::from(at(x + depth, top))
        .curve(at(x - Mm(0.3), top), at(x + Mm(0.9), middle), at(x, middle))
        .curve(at(x + Mm(0.9), middle), at(x - Mm(0.3), bottom), at(x + depth, bottom));
    ink.path(&path, &Paint::stroke(pens::barline()));
}
