//! How far apart the house of recorded pages sets its staves, found by voting.
//!
//! A page that is filled up holds as many systems as go on it. So each recorded page votes for the distances at which
//! its systems fit and one system more would not.

use super::gaps::{Gap, Heights, between};
use super::search::Candidate;
use super::systems::Systems;
use super::{Basis, Staves, Wishes, each_movement, fill};
use crate::casting_off::House;
use crate::casting_off::vote::{Vote, elected};
use crate::layout::{Origin, Page};
use crate::units::Spaces;

/// Fewer pages than this tell nothing.
const LEAST_PAGES: usize = 3;
/// Nobody sets staves further apart than this times what the habits say.
const UTMOST: f64 = 10.0;
/// Halvings of the search for a page's own distances.
const HALVINGS: u32 = 40;

/// Gaps between staves and systems over those of the basis's house that explain most of its recorded pages of several
/// systems; pages that `counts` refuses have no vote. `None` where too few tell.
#[must_use]
pub fn natural_spread(basis: &Basis<'_>, counts: impl Fn(usize) -> bool) -> Option<f64> {
    let house = House { staves: Staves::AsRecorded, ..fill::habits(basis.house) };
    let basis = Basis { house: &house, ..*basis };
    let mut votes = Vec::new();
    each_movement(&basis, &Wishes::keeping_systems(basis.pages), |systems, room, title| {
        let blocks = blocks(systems, title);
        let pages = basis.pages.pages.iter().enumerate();
        let told = pages.filter(|(at, page)| page.breaks != Origin::Estimated && page.systems.len() > 1 && counts(*at));
        votes.extend(told.filter_map(|(_, page)| vote(&blocks, page, &house, room, title)));
        Some(())
    })?;
    if votes.len() < LEAST_PAGES { None } else { elected(&votes) }
}

/// A recorded system and its gaps.
struct Block {
    own: Candidate,
    gaps: Vec<Gap>,
    staves: Spaces,
}

fn blocks(systems: &mut Systems, title: Spaces) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut first = 0;
    while let Some(trial) = systems.natural(first) {
        let Some(own) = systems.leanest(first, &trial, title) else { break };
        let Some(stack) = systems.stacks.get(own.set) else { break };
        first = own.end;
        let gaps = systems.gauge.gaps(stack, own.bars).collect();
        blocks.push(Block { own, gaps, staves: stack.lines() });
    }
    blocks
}

/// A movement's last page holds what is left: it has no vote.
fn vote(blocks: &[Block], page: &Page, house: &House, room: Spaces, title: Spaces) -> Option<Vote> {
    let first = page.span()?.first;
    let at = blocks.iter().position(|block| block.own.bars.first == first)?;
    let count = page.systems.len();
    let longer = blocks.get(at..=at + count)?;
    let shorter = longer.get(..count)?;
    let widest = |blocks: &[Block]| widest(|spread| height(blocks, spread, house, title) <= room);
    Vote::new(widest(longer), widest(shorter))
}

/// The largest spread at which a page holds; 0 where none.
fn widest(holds: impl Fn(f64) -> bool) -> f64 {
    let (mut least, mut most) = (0.0, UTMOST);
    for _ in 0..HALVINGS {
        let middle = (least + most) / 2.0;
        if holds(middle) { least = middle } else { most = middle }
    }
    least
}

/// What some systems take on a page.
fn height(blocks: &[Block], spread: f64, house: &House, title: Spaces) -> Spaces {
    let mut used = Spaces::ZERO;
    let mut above: Option<Heights> = None;
    for block in blocks {
        let heights = block.heights(spread);
        used += above.as_ref().map_or_else(|| fill::head(&block.own, title), |above| between(house, above, &heights));
        used += heights.lines;
        above = Some(heights);
    }
    used + blocks.last().map_or(Spaces::ZERO, |block| fill::foot(&block.own))
}

impl Block {
    fn heights(&self, spread: f64) -> Heights {
        let gaps = || self.gaps.iter().map(|gap| (gap.usual * spread).max(gap.least));
        Heights {
            lines: self.staves + gaps().sum(),
            widest: gaps().fold(Spaces::ZERO, Spaces::max),
            apart: self.own.heights.apart * spread,
            ..self.own.heights.clone()
        }
    }
}

#[cfg(test)]
mod tests;
