//! Systems: staves that a line at the left, or barlines, run through.

use super::ink::Line;
use super::{EngravedStaff, EngravedSystem};

/// A line this near the left end of a staff begins its system.
const AT_LEFT: f64 = 2.5;
/// So much may be missing where a line meets a staff.
const REACH: f64 = 0.4;
/// So many barlines through two staves make them a system where nothing stands at the left.
const BARLINES: usize = 2;

/// Groups staves, which are in order from the top.
pub(super) fn group(staves: Vec<EngravedStaff>, verticals: &[Line]) -> Vec<EngravedSystem> {
    let mut systems: Vec<EngravedSystem> = Vec::new();
    for staff in staves {
        let last = systems.last_mut().and_then(|system| Some((system.staves.last().copied()?, system)));
        match last {
            Some((above, system)) if belong_together(&above, &staff, verticals) => {
                let joined = barlines(&above, &staff, verticals) > 0;
                if let Some(above) = system.staves.last_mut() {
                    above.joined_below = joined;
                }
                system.staves.push(staff);
            }
            _ => systems.push(EngravedSystem { staves: vec![staff] }),
        }
    }
    systems
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
