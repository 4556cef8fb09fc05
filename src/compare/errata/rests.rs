//! Rests that are counted otherwise now, as one line for each.

use std::ops::Range;

use super::{Erratum, Hand};
use crate::compare::Matched;
use crate::compare::sheets::{Reason, Why};
use crate::place::BarIdx;
use crate::players::blocks::{Block, BlockKind};
use crate::score::{Score, SystemMarkKind};
use crate::words::counted;

/// More rests in a row are not written in by hand.
const MOST_IN_A_ROW: usize = 4;

/// What has to be written over the rests around a change; `None` where their place in the new draft is not known.
pub(super) fn count(hand: &Hand<'_>, why: &Why, matched: &Matched) -> Option<Erratum> {
    let came = matches!(why.reason, Reason::In | Reason::MovedIn);
    match around(hand.old_blocks, why.bars.first).or_else(|| around(hand.old_blocks, why.bars.last)) {
        Some(was) => becomes(hand, was, matched),
        None if came => {
            let bars = why.new_bars?;
            let text = format!("after it, a rest of {}", counted(bars.count() as usize, "bar"));
            Some(Erratum { old_bar: why.bars.first, new_bar: None, onset: None, text })
        }
        None => None,
    }
}

/// The rests in a row that hold a bar, by their places among the blocks.
fn around(blocks: &[Block], bar: BarIdx) -> Option<Range<usize>> {
    let at = blocks.partition_point(|block| block.bars.last < bar);
    let is_rest = |at: usize| blocks.get(at).is_some_and(|block| matches!(block.kind, BlockKind::Rest { .. }));
    if !is_rest(at) || !blocks.get(at).is_some_and(|block| block.bars.contains(bar)) {
        return None;
    }
    let first = (0..at).rev().take_while(|at| is_rest(*at)).last().unwrap_or(at);
    let end = (at..blocks.len()).take_while(|at| is_rest(*at)).last().map_or(at, |last| last + 1);
    Some(first..end)
}

fn becomes(hand: &Hand<'_>, was: Range<usize>, matched: &Matched) -> Option<Erratum> {
    let old = hand.old_blocks.get(was.clone())?;
    let (first, last) = (old.first()?.bars.first, old.last()?.bars.last);
    // The bar before it, or the one after it, leads to the same rest in the new draft.
    let before = first.0.checked_sub(1).map(BarIdx).map(|bar| matched.to_new(bar));
    let from_start = match before {
        None => Some(BarIdx(0)),
        Some(bar) => bar.map(|bar| BarIdx(bar.0 + 1)),
    };
    let from_end = matched.to_new(BarIdx(last.0 + 1)).and_then(|bar| bar.0.checked_sub(1)).map(BarIdx);
    let inside = (first.0..=last.0).find_map(|bar| matched.to_new(BarIdx(bar)));
    let now = [from_start, from_end, inside].into_iter().flatten().find_map(|bar| around(hand.new_blocks, bar));
    let new = now.and_then(|now| hand.new_blocks.get(now)).unwrap_or_default();
    if new.len() > MOST_IN_A_ROW || old.len() > MOST_IN_A_ROW {
        return None;
    }
    let (one, other) = (told(hand.old, old), told(hand.new, new));
    let text = match (old.len(), new.len()) {
        (_, 0) if from_start.is_none() && from_end.is_none() => return None,
        (_, 0) => format!("the rest of {one} is out"),
        (1, 1) => format!("the rest of {one} becomes {other}"),
        _ => format!("the rests {one} become {other}"),
    };
    Some(Erratum { old_bar: first, new_bar: new.first().map(|block| block.bars.first), onset: None, text })
}

/// "8, C 12": counts with the letters that they begin with.
fn told(score: &Score, blocks: &[Block]) -> String {
    let one = |block: &Block| {
        let from = score.marks.partition_point(|mark| mark.bar < block.bars.first);
        let own = score.marks.iter().skip(from).take_while(|mark| mark.bar == block.bars.first);
        let letter = own.filter_map(|mark| match &mark.kind {
            SystemMarkKind::Rehearsal(text) => Some(text.trim().to_owned()),
            _ => None,
        });
        let mut words: Vec<String> = letter.collect();
        words.push(block.bars.count().to_string());
        words.join(" ")
    };
    blocks.iter().map(one).collect::<Vec<_>>().join(", ")
}
