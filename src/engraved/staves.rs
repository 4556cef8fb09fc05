//! Staves: level lines, equally far apart, that begin and end together; and single lines that go with such staves.

use super::ink::Line;
use super::{EngravedStaff, EngravedSystem};
use crate::geometry::Rect;
use crate::layout::StaffRole;
use crate::units::Mm;

/// Shorter lines are ledger lines, tenuto signs, brackets of tuplets.
const SHORTEST: f64 = 8.0;
/// The ends of a staff's lines are so near each other.
const ENDS: f64 = 0.4;
/// Between two lines of a staff.
const SPACE: (f64, f64) = (0.4, 4.0);
/// The spaces of one staff differ by no more than this share.
const EVEN: f64 = 0.05;
/// Lines thicker than this share of a space are beams.
const THICKEST: f64 = 0.35;
/// Of fewer lines than the first or more than the second no staff is made.
const LINES: (usize, usize) = (3, 6);
const FIVE: usize = 5;

/// Staves from the top.
pub(super) fn find(horizontals: &[Line]) -> Vec<EngravedStaff> {
    let mut long: Vec<Line> = horizontals.iter().copied().filter(|line| line.to - line.from >= SHORTEST).collect();
    long.sort_by(|a, b| a.at.total_cmp(&b.at).then(a.from.total_cmp(&b.from)));
    let mut taken = vec![false; long.len()];
    let mut staves = Vec::new();
    take(&long, &mut taken, &mut staves, |staff| usize::from(staff.lines) >= FIVE);
    // Staves of fewer lines have the spaces and the ends of the others; beams and single lines have not.
    let five = staves.clone();
    let is_like = |staff: &EngravedStaff| {
        five.iter().any(|own| {
            let (near, space) = (own.rect, own.space());
            (space - staff.space()).abs() <= EVEN * space + 0.03
                && (near.left - staff.rect.left).abs().0 <= ENDS
                && (near.right - staff.rect.right).abs().0 <= ENDS
        })
    };
    take(&long, &mut taken, &mut staves, |staff| usize::from(staff.lines) < FIVE && is_like(staff));
    let single = single(&long, &taken, &staves);
    staves.extend(single);
    staves.sort_by(|a, b| a.rect.top.0.total_cmp(&b.rect.top.0).then(a.rect.left.0.total_cmp(&b.rect.left.0)));
    staves
}

/// Takes the rows of lines that are wanted for staves.
fn take(long: &[Line], taken: &mut [bool], staves: &mut Vec<EngravedStaff>, wanted: impl Fn(&EngravedStaff) -> bool) {
    for first in 0..long.len() {
        if taken.get(first).copied().unwrap_or(true) {
            continue;
        }
        let own = row(long, first, taken);
        let Some(staff) = staff(long, &own).filter(|_| (LINES.0..=LINES.1).contains(&own.len())) else { continue };
        if are_beams(long, &own) || !wanted(&staff) {
            continue;
        }
        for at in &own {
            if let Some(place) = taken.get_mut(*at) {
                *place = true;
            }
        }
        staves.push(staff);
    }
}

/// The lines of a staff that begins with this one. A staff may go on with fewer lines: those run on farther.
fn row(long: &[Line], first: usize, taken: &[bool]) -> Vec<usize> {
    let mut own = vec![first];
    let Some(top) = long.get(first) else { return own };
    let (mut last, mut space) = (*top, None);
    for (at, line) in long.iter().enumerate().skip(first + 1) {
        let down = line.at - last.at;
        let most = space.map_or(SPACE.1, |space: f64| space * (1.0 + EVEN) + 0.03);
        if down > most || own.len() == LINES.1 {
            break;
        }
        let covers = line.from <= top.from + ENDS && line.to >= top.to - ENDS;
        let ends = (line.from - top.from).abs() <= ENDS || (line.to - top.to).abs() <= ENDS;
        let least = space.map_or(SPACE.0, |space: f64| space * (1.0 - EVEN) - 0.03);
        if !(covers && ends) || taken.get(at).copied().unwrap_or(true) || down < least {
            continue;
        }
        space.get_or_insert(down);
        own.push(at);
        last = *line;
    }
    own
}

fn are_beams(long: &[Line], own: &[usize]) -> bool {
    let lines: Vec<&Line> = own.iter().filter_map(|at| long.get(*at)).collect();
    let (Some(first), Some(last)) = (lines.first(), lines.last()) else { return true };
    let space = (last.at - first.at) / (lines.len() as f64 - 1.0).max(1.0);
    lines.iter().any(|line| line.thick > THICKEST * space)
}

fn staff(long: &[Line], own: &[usize]) -> Option<EngravedStaff> {
    let lines: Vec<&Line> = own.iter().filter_map(|at| long.get(*at)).collect();
    let (top, bottom) = (lines.first()?, lines.last()?);
    let left = lines.iter().map(|line| line.from).fold(f64::INFINITY, f64::min);
    let right = lines.iter().map(|line| line.to).fold(0.0, f64::max);
    Some(new(Rect::new(Mm(left), Mm(top.at), Mm(right), Mm(bottom.at)), lines.len()))
}

fn new(rect: Rect, lines: usize) -> EngravedStaff {
    EngravedStaff { rect, lines: lines as u8, joined_below: false, role: StaffRole::Normal }
}

/// Lines of their own that begin and end as a staff of the page does, clear of all staves.
fn single(long: &[Line], taken: &[bool], staves: &[EngravedStaff]) -> Vec<EngravedStaff> {
    let alone = |line: &Line| {
        let like_one = staves
            .iter()
            .any(|staff| (staff.rect.left.0 - line.from).abs() <= ENDS && (staff.rect.right.0 - line.to).abs() <= ENDS);
        let clear = staves.iter().all(|staff| {
            let space = staff.space();
            line.at < staff.rect.top.0 - 2.0 * space || line.at > staff.rect.bottom.0 + 2.0 * space
        });
        like_one && clear
    };
    let free = long.iter().zip(taken).filter(|(_, taken)| !**taken).map(|(line, _)| line);
    free.filter(|line| alone(line))
        .map(|line| new(Rect::new(Mm(line.from), Mm(line.at), Mm(line.to), Mm(line.at)), 1))
        .collect()
}

/// How thick most lines of these staves are; `None` without staves.
pub(super) fn thickness(horizontals: &[Line], systems: &[EngravedSystem]) -> Option<Mm> {
    let staves: Vec<&EngravedStaff> = systems.iter().flat_map(|system| &system.staves).collect();
    let is_of_one = |line: &&Line| {
        staves.iter().any(|staff| {
            let rect = staff.rect;
            rect.top.0 - ENDS <= line.at && line.at <= rect.bottom.0 + ENDS && (line.from - rect.left.0).abs() <= ENDS
        })
    };
    let mut thick: Vec<f64> = horizontals.iter().filter(is_of_one).map(|line| line.thick).collect();
    thick.sort_by(f64::total_cmp);
    thick.get(thick.len() / 2).map(|middle| Mm(*middle).rounded())
}
