//! Systems: staves that a line at the left, or barlines, run through; ossias go with the staff below them.

use super::ink::Line;
use super::{EngravedStaff, EngravedSystem};
use crate::layout::StaffRole;

/// A line this near the left end of a staff begins its system.
const AT_LEFT: f64 = 2.5;
/// So much may be missing where a line meets a staff.
const REACH: f64 = 0.4;
/// So many barlines through two staves make them a system where nothing stands at the left.
const BARLINES: usize = 2;
/// A staff so much smaller than most is a cue or an ossia.
const SMALLER: f64 = 0.9;
/// An ossia takes less of the width.
const SHORTER: f64 = 0.9;

/// Groups staves, which are in order from the top.
pub(super) fn group(mut staves: Vec<EngravedStaff>, verticals: &[Line]) -> Vec<EngravedSystem> {
    tell_small(&mut staves);
    let mut systems: Vec<EngravedSystem> = Vec::new();
    let mut above: Option<EngravedStaff> = None;
    let mut waiting: Vec<EngravedStaff> = Vec::new();
    for staff in staves {
        if staff.role == StaffRole::Ossia {
            waiting.push(staff);
            continue;
        }
        let joins = above.filter(|above| belong_together(above, &staff, verticals));
        match (systems.last_mut(), joins) {
            (Some(system), Some(upper)) => {
                let joined = barlines(&upper, &staff, verticals) > 0;
                if let Some(upper) = system.staves.last_mut() {
                    upper.joined_below = joined;
                }
                system.staves.append(&mut waiting);
                system.staves.push(staff);
            }
            _ => {
                // An ossia under the last staff of all stands nearer to it than to the next system.
                waiting.push(staff);
                systems.push(EngravedSystem { staves: std::mem::take(&mut waiting), ..EngravedSystem::default() });
            }
        }
        above = Some(staff);
    }
    match systems.last_mut() {
        Some(system) => system.staves.append(&mut waiting),
        None => systems.extend(
            waiting.into_iter().map(|staff| EngravedSystem { staves: vec![staff], ..EngravedSystem::default() }),
        ),
    }
    systems
}

/// Staves that are smaller than most of their page.
fn tell_small(staves: &mut [EngravedStaff]) {
    let mut heights: Vec<f64> =
        staves.iter().filter(|staff| staff.lines > 1).map(|staff| staff.rect.height().0).collect();
    heights.sort_by(f64::total_cmp);
    // Where as many are small as are large, the large ones are those of full size.
    let Some(usual) = heights.get(heights.len() * 2 / 3).copied() else { return };
    let widest = staves.iter().map(|staff| staff.rect.width().0).fold(0.0, f64::max);
    for staff in staves {
        if staff.lines > 1 && staff.rect.height().0 < SMALLER * usual {
            let is_short = staff.rect.width().0 < SHORTER * widest;
            staff.role = if is_short { StaffRole::Ossia } else { StaffRole::Cue };
        }
    }
}

fn through<'a>(above: &EngravedStaff, below: &EngravedStaff, verticals: &'a [Line]) -> impl Iterator<Item = &'a Line> {
    let (from, to) = (above.rect.bottom.0 + REACH, below.rect.top.0 - REACH);
    verticals.iter().filter(move |line| line.from <= from && line.to >= to)
}

fn belong_together(above: &EngravedStaff, below: &EngravedStaff, verticals: &[Line]) -> bool {
    let left = above.rect.left.0.min(below.rect.left.0);
    let at_left = through(above, below, verticals).any(|line| (line.at - left).abs() <= AT_LEFT);
    at_left || barlines(above, below, verticals) >= BARLINES
}

/// Lines through both that stand inside them, away from the left.
fn barlines(above: &EngravedStaff, below: &EngravedStaff, verticals: &[Line]) -> usize {
    let left = above.rect.left.0.max(below.rect.left.0) + AT_LEFT;
    let right = above.rect.right.0.min(below.rect.right.0) + REACH;
    through(above, below, verticals).filter(|line| line.at > left && line.at <= right).count()
}
