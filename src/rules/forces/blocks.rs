//! Neighbouring parts of one family.

use crate::place::{PartId, StaffId};
use crate::rules::Case;
use crate::score::Family;
use crate::survey::{ForcesEntry, Instrument};

/// A run of neighbouring parts of one family.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Block {
    pub(super) family: Family,
    pub(super) first: PartId,
    pub(super) last: PartId,
}

impl Block {
    pub(super) fn parts(self) -> impl Iterator<Item = PartId> {
        (self.first.0..=self.last.0).map(PartId)
    }

    pub(super) fn count(self) -> usize {
        usize::from(self.last.0 - self.first.0) + 1
    }

    /// "woodwind".
    pub(super) fn name(self) -> &'static str {
        match self.family {
            Family::Woodwind => "woodwind",
            Family::Brass => "brass",
            Family::Percussion => "percussion",
            Family::Keyboard => "harp and keyboards",
            Family::Voices => "voices",
            Family::Strings => "strings",
            Family::Unknown => "others",
        }
    }
}

impl Case<'_> {
    /// The family whose place in the score a part takes; `None` for soloists, who stand above all or above the
    /// strings, and where the name does not tell. A continuo stands with the basses.
    pub(super) fn place_in_order(&self, id: PartId) -> Option<Family> {
        let part = self.score.parts.get(id.at())?;
        let is_soloist = |entry: &&ForcesEntry| entry.instrument == Instrument::Soloist && entry.parts.contains(&id);
        if part.family == Family::Unknown || self.survey.forces.players.iter().any(|entry| is_soloist(&entry)) {
            return None;
        }
        let name = part.name.to_lowercase();
        let is_continuo = name.contains("continuo") || name.contains("generalbass");
        Some(if is_continuo { Family::Strings } else { part.family })
    }

    /// Blocks of two parts or more that a bracket and common barlines should hold together: woodwind, brass,
    /// percussion and strings.
    pub(super) fn blocks(&self) -> Vec<Block> {
        let mut blocks: Vec<Block> = Vec::new();
        for (at, part) in self.score.parts.iter().enumerate() {
            let Ok(id) = u16::try_from(at).map(PartId) else { break };
            match blocks.last_mut() {
                Some(block) if block.family == part.family => block.last = id,
                _ => blocks.push(Block { family: part.family, first: id, last: id }),
            }
        }
        let held = [Family::Woodwind, Family::Brass, Family::Percussion, Family::Strings];
        blocks.retain(|block| block.count() > 1 && held.contains(&block.family));
        blocks
    }

    pub(super) fn staves_of_block(&self, block: Block) -> Vec<StaffId> {
        block.parts().flat_map(|part| self.score.staves_of(part)).collect()
    }
}
