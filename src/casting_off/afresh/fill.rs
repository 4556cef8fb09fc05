//! Filling up: lines at their natural widths, pages with such lines, never looking ahead. What automatic layout does.

use super::gaps::between;
use super::search::{Candidate, Step};
use super::systems::Systems;
use crate::units::Spaces;

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
        let fits = bottom.filter(|bottom| *bottom + own.heights.below <= room && !systems.begins_page(first));
        used = fits.unwrap_or(own.top + own.heights.lines);
        first = own.end;
        chosen.push((own, Step { candidate: chosen.len(), begins_page: fits.is_none() }));
    }
    chosen
}
