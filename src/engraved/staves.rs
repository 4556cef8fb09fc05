//! Staves: five level lines, equally far apart, with the same ends; and single lines with the ends of such staves.

use super::EngravedStaff;
use super::ink::Line;
use crate::geometry::Rect;
use crate::units::Mm;

/// Shorter lines are ledger lines, tenuto signs, brackets of tuplets.
const SHORTEST: f64 = 8.0;
/// The ends of a staff's lines are so near each other.
const ENDS: f64 = 0.4;
/// Between two lines of a staff.
const SPACE: (f64, f64) = (0.4, 4.0);
/// The spaces of one staff differ by no more than this share.
const EVEN: f64 = 0.05;
const LINES: usize = 5;

/// Staves from the top.
pub(super) fn find(horizontals: &[Line]) -> Vec<EngravedStaff> {
    let mut long: Vec<Line> = horizontals.iter().copied().filter(|line| line.to - line.from >= SHORTEST).collect();
    long.sort_by(|a, b| a.at.total_cmp(&b.at).then(a.from.total_cmp(&b.from)));
    let mut taken = vec![false; long.len()];
    let mut staves = Vec::new();
    for first in 0..long.len() {
        if taken.get(first).copied().unwrap_or(true) {
            continue;
        }
        if let Some(own) = five(&long, first, &taken) {
            for at in &own {
                if let Some(place) = taken.get_mut(*at) {
                    *place = true;
                }
            }
            staves.extend(staff(&long, &own));
        }
    }
    let single = single(&long, &taken, &staves);
    staves.extend(single);
    staves.sort_by(|a, b| a.rect.top.0.total_cmp(&b.rect.top.0).then(a.rect.left.0.total_cmp(&b.rect.left.0)));
    staves
}

/// The five lines of a staff that begins with this one.
fn five(long: &[Line], first: usize, taken: &[bool]) -> Option<Vec<usize>> {
    let top = long.get(first)?;
    let mut own = vec![first];
    let mut space = None;
    for (at, line) in long.iter().enumerate().skip(first + 1) {
        let last = long.get(*own.last()?)?;
        let down = line.at - last.at;
        let most = space.map_or(SPACE.1, |space: f64| space * (1.0 + EVEN) + 0.03);
        if down > most {
            return None;
        }
        let same_ends = (line.from - top.from).abs() <= ENDS && (line.to - top.to).abs() <= ENDS;
        let least = space.map_or(SPACE.0, |space: f64| space * (1.0 - EVEN) - 0.03);
        if !same_ends || taken.get(at).copied().unwrap_or(true) || down < least {
            continue;
        }
        space.get_or_insert(down);
        own.push(at);
        if own.len() == LINES {
            return Some(own);
        }
    }
    None
}

fn staff(long: &[Line], own: &[usize]) -> Option<EngravedStaff> {
    let lines: Vec<&Line> = own.iter().filter_map(|at| long.get(*at)).collect();
    let (top, bottom) = (lines.first()?, lines.last()?);
    let rect = Rect::new(Mm(top.from), Mm(top.at), Mm(top.to), Mm(bottom.at));
    Some(EngravedStaff { rect, lines: LINES as u8, joined_below: false })
}

/// Lines of their own that begin and end as a staff of the page does, clear of all staves.
fn single(long: &[Line], taken: &[bool], staves: &[EngravedStaff]) -> Vec<EngravedStaff> {
    let alone = |line: &Line| {
        let like_one = staves
            .iter()
            .any(|staff| (staff.rect.left.0 - line.from).abs() <= ENDS && (staff.rect.right.0 - line.to).abs() <= ENDS);
        let clear = staves.iter().all(|staff| {
            let space = staff.rect.height().0 / 4.0;
            line.at < staff.rect.top.0 - 2.0 * space || line.at > staff.rect.bottom.0 + 2.0 * space
        });
        like_one && clear
    };
    let free = long.iter().zip(taken).filter(|(_, taken)| !**taken).map(|(line, _)| line);
    free.filter(|line| alone(line))
        .map(|line| {
            let rect = Rect::new(Mm(line.from), Mm(line.at), Mm(line.to), Mm(line.at));
            EngravedStaff { rect, lines: 1, joined_below: false }
        })
        .collect()
}
