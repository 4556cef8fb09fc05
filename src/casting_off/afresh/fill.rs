//! Filling up: lines at their natural widths, pages with such lines, never looking ahead. What automatic layout does.

use super::gaps::between;
use super::search::{Candidate, Step};
use super::systems::Systems;
use crate::casting_off::House;
use crate::units::Spaces;

/// Least room between a page's margins and its first and last staff (the open quartets: 7.0 above on every page without
/// a title; below it seldom less than 10).
pub(super) const HEAD: Spaces = Spaces(7.0);
pub(super) const FOOT: Spaces = Spaces(10.0);
/// Automatic layout leaves more white between contents than a hand that needs the room (fitted on the open quartets;
/// with half a space 48 of 89 pages held as many systems as recorded, with this and the room above and below 51).
const CLEARANCE: Spaces = Spaces(1.5);

/// How a house fills pages up.
pub(super) fn habits(house: &House) -> House {
    House { clearance: house.clearance.max(CLEARANCE), ..house.clone() }
}

/// The systems of one movement and where pages begin. `room` stands between the margins of a page, `title` above the
/// first system.
pub(super) fn fill(systems: &mut Systems, room: Spaces, title: Spaces) -> Vec<(Candidate, Step)> {
    let mut chosen: Vec<(Candidate, Step)> = Vec::new();
    let mut used = Spaces::ZERO;
    let mut first = 0;
    while let Some(trial) = systems.natural(first) {
        let Some(own) = systems.leanest(first, &trial, title) else { break };
        let gap = |above: &Candidate| between(systems.source.house, &above.heights, &own.heights);
        let bottom = chosen.last().map(|(above, _)| used + gap(above) + own.heights.lines);
        let fits = |bottom: &Spaces| *bottom + foot(&own) <= room && !systems.begins_page(first);
        let bottom = bottom.filter(fits);
        used = bottom.unwrap_or(head(&own, title) + own.heights.lines);
        first = own.end;
        chosen.push((own, Step { candidate: chosen.len(), begins_page: bottom.is_none() }));
    }
    chosen
}

/// Above the first staff of a page that begins with this system.
pub(super) fn head(own: &Candidate, title: Spaces) -> Spaces {
    own.heights.above.max(if own.first == 0 { title } else { HEAD })
}

/// Below the last staff of a page that ends with this system.
pub(super) fn foot(own: &Candidate) -> Spaces {
    own.heights.below.max(FOOT)
}

#[cfg(test)]
mod tests;
