//! Barlines, and so the bars that are printed.

use super::heads::Heads;
use super::ink::Line;
use super::{EngravedBar, EngravedStaff, EngravedSystem};
use crate::geometry::Rect;
use crate::units::Mm;

/// A barline ends this near a staff's outer lines, in spaces, or runs on.
const ENDS: f64 = 0.25;
/// On a staff that stands alone, where nothing but its ends and its thickness tell it from a stem.
const ENDS_ALONE: f64 = 0.12;
/// Of most barlines' thickness: stems are thinner.
const THICK: f64 = 0.85;
/// Lines of one double, final or repeat barline stand this near, in spaces.
const ONE: f64 = 1.6;
/// And two of them are so far apart.
const TWO: f64 = 0.25;
/// Lines at the same place on several staves.
const SAME: f64 = 0.35;
/// At the left end stands what begins the system.
const AT_LEFT: f64 = 2.5;
/// A bar cannot be narrower, in spaces.
const NARROWEST: f64 = 1.8;

/// One barline, single or of several strokes.
#[derive(Clone, Copy, Debug)]
struct Barline {
    left: f64,
    right: f64,
}

/// The bars of a system from the left.
pub(super) fn bars(system: &EngravedSystem, verticals: &[Line], signs: &[Rect], thick: f64) -> Vec<EngravedBar> {
    let heads: Vec<Heads> = system.staves.iter().map(|staff| Heads::of(staff, signs)).collect();
    let all = system.staves.iter().zip(&heads);
    let whole: Vec<(&EngravedStaff, &Heads)> = all.filter(|(staff, _)| staff.is_whole(system)).collect();
    let Some((first, _)) = whole.first() else { return Vec::new() };
    let columns: Vec<Vec<f64>> = match whole.as_slice() {
        [(alone, _)] => vec![on_staff_alone(alone, verticals, thick)],
        several => several.iter().map(|(staff, heads)| on_staff(staff, heads, verticals)).collect(),
    };
    let space = first.space();
    let left = whole.iter().map(|(staff, _)| staff.rect.left.0).fold(f64::INFINITY, f64::min);
    let right = whole.iter().map(|(staff, _)| staff.rect.right.0).fold(0.0, f64::max);
    let places = common(&columns, SAME * space);
    let mut barlines = joined(&places, ONE * space);
    let any_music = |from: f64, to: f64| heads.iter().any(|heads| heads.any_music(from, to));
    // What stands at the left end, or after clef and key with no music before it, begins the first bar.
    let mut begins = left;
    while let Some(line) = barlines.first().copied() {
        // A single line ends a bar, be there music in it or not; two are the beginning of a repeat.
        let repeats = line.right - line.left >= TWO * space && !any_music(begins, line.left);
        if line.left - left > AT_LEFT && !repeats {
            break;
        }
        begins = line.right.max(left);
        barlines.remove(0);
    }
    let mut bars = Vec::new();
    for line in &barlines {
        if line.left - begins >= NARROWEST * space {
            bars.push((begins, line.right));
        }
        begins = line.right;
    }
    if right - begins >= NARROWEST * space && (bars.is_empty() || any_music(begins, right)) {
        bars.push((begins, right));
    }
    let count = |(from, to): (f64, f64)| heads.iter().map(|heads| heads.between(from, to)).sum::<usize>();
    bars.into_iter()
        .map(|(from, to)| EngravedBar { left: Mm(from), right: Mm(to), heads: count((from, to)) as u32, holds: 1 })
        .collect()
}

/// Places where an upright line runs from a staff's top line to its bottom line, or beyond, and is no stem.
fn on_staff(staff: &EngravedStaff, heads: &Heads, verticals: &[Line]) -> Vec<f64> {
    let space = staff.space();
    let (top, bottom) = (staff.rect.top.0, staff.rect.bottom.0);
    let (left, right) = (staff.rect.left.0 - space, staff.rect.right.0 + space);
    let through = |line: &&Line| line.from <= top + ENDS * space && line.to >= bottom - ENDS * space;
    let ends = |line: &Line| (line.from - top).abs() <= ENDS * space || (line.to - bottom).abs() <= ENDS * space;
    let mut places: Vec<f64> = verticals
        .iter()
        .filter(|line| left <= line.at && line.at <= right)
        .filter(through)
        .filter(|line| ends(line) || line.to - line.from > 3.0 * (bottom - top))
        .filter(|line| !heads.at_ends(line.at, line.from.max(top), line.to.min(bottom), space))
        .map(|line| line.at)
        .collect();
    places.sort_by(f64::total_cmp);
    places
}

/// Lines that go just from the top line to the bottom line.
fn fitting<'a>(staff: &EngravedStaff, verticals: &'a [Line]) -> impl Iterator<Item = &'a Line> {
    let rect = staff.rect;
    let (near, space) = (ENDS_ALONE * staff.space(), staff.space());
    let fits = move |line: &&Line| {
        (line.from - rect.top.0).abs() <= near
            && (line.to - rect.bottom.0).abs() <= near
            && rect.left.0 - space <= line.at
            && line.at <= rect.right.0 + space
    };
    verticals.iter().filter(fits)
}

fn on_staff_alone(staff: &EngravedStaff, verticals: &[Line], thick: f64) -> Vec<f64> {
    let mut places: Vec<f64> =
        fitting(staff, verticals).filter(|line| line.thick >= THICK * thick).map(|line| line.at).collect();
    places.sort_by(f64::total_cmp);
    places
}

/// How thick most lines are that fit a staff; a page without any has 0.
pub(super) fn usual_thickness(systems: &[EngravedSystem], verticals: &[Line]) -> f64 {
    let staves = systems.iter().flat_map(|system| &system.staves).filter(|staff| staff.lines > 1);
    let mut thick: Vec<f64> =
        staves.flat_map(|staff| fitting(staff, verticals)).map(|line| (line.thick * 1000.0).round()).collect();
    thick.sort_by(f64::total_cmp);
    let longest = thick.chunk_by(|a, b| a == b).max_by_key(|run| run.len());
    longest.and_then(|run| run.first()).map_or(0.0, |most| most / 1000.0)
}

/// Places that all staves have; of many, nearly all.
fn common(columns: &[Vec<f64>], same: f64) -> Vec<f64> {
    let wanted = if columns.len() < 4 { columns.len() } else { columns.len() - columns.len() / 4 };
    let mut all: Vec<f64> = columns.iter().flatten().copied().collect();
    all.sort_by(f64::total_cmp);
    let mut places: Vec<f64> = Vec::new();
    for place in all {
        let has = |column: &&Vec<f64>| column.iter().any(|own| (own - place).abs() <= same);
        if columns.iter().filter(has).count() >= wanted && places.last().is_none_or(|last| place - last > 0.001) {
            places.push(place);
        }
    }
    places
}

fn joined(places: &[f64], near: f64) -> Vec<Barline> {
    let mut barlines: Vec<Barline> = Vec::new();
    for place in places {
        match barlines.last_mut() {
            Some(last) if place - last.right <= near => last.right = *place,
            _ => barlines.push(Barline { left: *place, right: *place }),
        }
    }
    barlines
}
