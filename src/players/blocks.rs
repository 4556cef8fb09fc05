//! What a line of a part is made of: single bars, multi-bar rests, movements without a note.

use std::collections::BTreeSet;

use crate::place::{BarIdx, BarSpan};
use crate::score::{Cell, MarkKind, Score, SystemMarkKind};

/// Neighbouring bars that are printed as one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    pub bars: BarSpan,
    pub kind: BlockKind,
}

/// How they are printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BlockKind {
    /// One bar with something to read in it (notes, a cue, a fermata, a general pause, a bar-repeat sign).
    Bar,
    /// A multi-bar rest, or a single bar of rest.
    Rest {
        /// Bars inside after which it may be divided for a turn, landmarks apart (those divide it anyway).
        divisible_after: Vec<BarIdx>,
    },
    /// A whole movement without a note: one line that says "tacet".
    Tacet,
}

/// Gathers a player's music into single bars, multi-bar rests and tacet movements.
///
/// A rest is divided wherever a player counts anew or looks up (common practice): rehearsal marks, tempo, metre, key,
/// double bars, repeats, words for the player; pauses stand alone.
#[must_use]
pub fn blocks(music: &Score) -> Vec<Block> {
    let landmarks = landmarks(music);
    let mut blocks = Vec::new();
    for movement in &music.movements {
        let bars = movement.bars;
        if bars.iter().all(|bar| is_silent(music, bar)) {
            blocks.push(Block { bars, kind: BlockKind::Tacet });
            continue;
        }
        let mut rest: Option<BarSpan> = None;
        for bar in bars.iter() {
            let rests = is_silent(music, bar) && !landmarks.pauses.contains(&bar);
            let goes_on = rests && !landmarks.starts.contains(&bar);
            match &mut rest {
                Some(open) if goes_on => open.last = bar,
                _ => {
                    blocks.extend(rest.take().map(resting));
                    if rests {
                        rest = Some(BarSpan::one(bar));
                    } else {
                        blocks.push(Block { bars: BarSpan::one(bar), kind: BlockKind::Bar });
                    }
                }
            }
        }
        blocks.extend(rest.map(resting));
    }
    blocks
}

/// Whether a player has nothing at all to read in a bar but a rest.
#[must_use]
pub fn is_silent(music: &Score, bar: BarIdx) -> bool {
    let staves = music.staves.len();
    let cells = music.cells.get(bar.at() * staves..(bar.at() + 1) * staves).unwrap_or_default();
    cells.iter().all(|cell| cell.is_silent() && !cell.events.iter().any(|event| event.fermata))
}

/// Shorter rests are never divided.
const DIVISIBLE: u32 = 4;

/// Divided, the larger share stands before the turn (common practice): half, two thirds, three quarters.
fn resting(bars: BarSpan) -> Block {
    let count = bars.count();
    let mut divisible_after: Vec<BarIdx> = if count < DIVISIBLE {
        Vec::new()
    } else {
        let parts = [count.div_ceil(2), (2 * count).div_ceil(3), (3 * count).div_ceil(4)];
        parts.into_iter().filter(|before| *before < count).map(|before| BarIdx(bars.first.0 + before - 1)).collect()
    };
    divisible_after.dedup();
    Block { bars, kind: BlockKind::Rest { divisible_after } }
}

/// Bars that begin something, and bars that are a pause.
struct Landmarks {
    starts: BTreeSet<BarIdx>,
    pauses: BTreeSet<BarIdx>,
}

fn landmarks(music: &Score) -> Landmarks {
    let (mut starts, mut pauses) = (BTreeSet::new(), BTreeSet::new());
    for mark in &music.marks {
        match &mark.kind {
            SystemMarkKind::GeneralPause => {
                pauses.insert(mark.bar);
            }
            SystemMarkKind::Tempo { .. } if mark.over.is_empty() => {}
            _ => {
                starts.insert(mark.bar);
            }
        }
    }
    let staves = music.staves.len().max(1);
    for (at, bar) in music.bars.iter().enumerate() {
        let own = BarIdx(at as u32);
        let next = BarIdx(at as u32 + 1);
        let cells = music.cells.get(at * staves..(at + 1) * staves).unwrap_or_default();
        let says =
            |cell: &Cell| cell.key_changes || cell.marks.iter().any(|mark| matches!(mark.kind, MarkKind::Words(_)));
        let begins = bar.metre_changes || bar.left.repeat || bar.left.is_double || cells.iter().any(says);
        if begins || bar.ending.as_ref().is_some_and(|ending| ending.starts) {
            starts.insert(own);
        }
        let ends = bar.right.is_double || bar.right.is_final || bar.right.repeat;
        if ends || bar.ending.as_ref().is_some_and(|ending| ending.stops) {
            starts.insert(next);
        }
        if bar.right.fermata || bar.left.fermata {
            pauses.insert(own);
        }
    }
    Landmarks { starts, pauses }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::score::Family;

    fn silent(bars: u32) -> Score {
        let mut score = fixture::score(&[("Tuba", Family::Brass, 1)], bars);
        // The last bar plays, so that the movement is not tacet.
        fixture::put(&mut score, bars - 1, 0, vec![fixture::quarter("C4", 0)]);
        score
    }

    fn lengths(score: &Score) -> Vec<u32> {
        blocks(score).iter().map(|block| block.bars.count()).collect()
    }

    #[test]
    fn a_rest_is_one_block_until_the_metre_changes() {
        let mut score = silent(11);
        assert_eq!(lengths(&score), [10, 1]);
        score.bars[4].metre_changes = true;
        assert_eq!(lengths(&score), [4, 6, 1]);
    }

    #[test]
    fn a_double_bar_and_a_key_divide_a_rest_and_a_pause_stands_alone() {
        let mut score = silent(13);
        score.bars[1].right.is_double = true;
        score.cells[6].key_changes = true;
        score.bars[9].right.fermata = true;
        assert_eq!(lengths(&score), [2, 4, 3, 1, 2, 1]);
    }

    #[test]
    fn a_silent_movement_is_tacet() {
        let mut score = silent(3);
        fixture::add_movement(&mut score, 20);
        let last = blocks(&score).pop().unwrap();
        assert_eq!((last.bars.count(), last.kind), (20, BlockKind::Tacet));
    }

    #[test]
    fn the_larger_share_stands_before_a_division() {
        let divisible = |bars: u32| match resting(BarSpan::new(BarIdx(0), BarIdx(bars - 1))).kind {
            BlockKind::Rest { divisible_after } => divisible_after.iter().map(|bar| bar.0 + 1).collect::<Vec<_>>(),
            _ => Vec::new(),
        };
        assert_eq!(divisible(3), [0_u32; 0]);
        assert_eq!(divisible(4), [2, 3]);
        assert_eq!(divisible(12), [6, 8, 9]);
    }
}
