//! The lines that parts are held against: each player's, and of a section drawn from several staves, each of these too.

use std::collections::BTreeMap;

use super::matched::Own;
use crate::place::{BarSpan, PartId};
use crate::players::{self, Player};
use crate::proof::whose::Fingers;
use crate::score::Score;

/// All lines of a score.
pub(super) struct Lines {
    pub all: Vec<OneLine>,
}

pub(super) struct OneLine {
    pub player: Player,
    /// The whole work where it has several movements, and each movement, with the notes in it.
    pub spans: Vec<(BarSpan, Fingers)>,
    /// One of the staves of the section before it.
    pub is_one_of_several: bool,
    /// Asked for; files of others are known for what they are, and not looked at.
    pub is_wanted: bool,
}

impl Lines {
    /// Of all players; `wanted` are the places of those that are asked for.
    pub fn of(score: &Score, players: Vec<Player>, wanted: &[usize]) -> Lines {
        let mut all = Vec::new();
        for (at, player) in players.into_iter().enumerate() {
            let is_wanted = wanted.contains(&at);
            let mut parts: Vec<PartId> =
                player.staves.iter().filter_map(|staff| score.staves.get(staff.at())).map(|staff| staff.part).collect();
            parts.dedup();
            let several = if parts.len() > 1 { parts } else { Vec::new() };
            all.push(OneLine::of(score, player, false, is_wanted));
            all.extend(
                several
                    .into_iter()
                    .filter_map(|part| Some(OneLine::of(score, players::of_part(score, part)?, true, is_wanted))),
            );
        }
        Lines { all }
    }

    /// Whether a section's staves have files of their own.
    pub fn has_own_staves(&self, at: usize, matched: &BTreeMap<usize, Vec<Own>>) -> bool {
        let own = self.all.iter().enumerate().skip(at + 1).take_while(|(_, line)| line.is_one_of_several);
        own.into_iter().any(|(at, _)| matched.contains_key(&at))
    }
}

impl OneLine {
    fn of(score: &Score, player: Player, is_one_of_several: bool, is_wanted: bool) -> OneLine {
        let mut spans: Vec<BarSpan> = score.movements.iter().map(|movement| movement.bars).collect();
        if spans.len() > 1 {
            spans.extend(score.all_bars());
        }
        let spans = spans.into_iter().map(|span| (span, Fingers::of(&player.music, span))).collect();
        OneLine { player, spans, is_one_of_several, is_wanted }
    }
}
