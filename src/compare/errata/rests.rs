//! Rests that are counted otherwise now, as one line for each.

use std::ops::Range;

use super::{Erratum, Hand};
use crate::compare::Matched;
use crate::compare::sheets::{Reason, Why};
use crate::place::BarIdx;
use crate::players::blocks::{Block, BlockKind};
use crate::score::{Score, SystemMarkKind};

/// More rests in a row are not written in by hand.
const MOST_IN_A_ROW: usize = 6;

/// What has to be written over the rests around a change; `None` where their place in the new draft is not known.
pub(super) fn count(hand: &Hand<'_>, why: &Why, matched: &Matched) -> Option<Erratum> {
    let came = matches!(why.reason, Reason::In | Reason::MovedIn);
    match around(hand.old_blocks, why.bars.first).or_else(|| around(hand.old_blocks, why.bars.last)) {
        Some(was) => becomes(hand, was, matched),
        None if came => {
            let now = hand.new_blocks.get(around(hand.new_blocks, why.new_bars?.first)?)?;
            let text = format!("after it, {}", rests(&told(hand.new, now)));
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
    let old = hand.old_blocks.get(was)?;
    let (first, last) = (old.first()?.bars.first, old.last()?.bars.last);
    // The bar before it, or the one after it, leads to the same rest in the new draft.
    let before = match first.0.checked_sub(1) {
        None => Some(BarIdx(0)),
        Some(bar) => matched.stays(BarIdx(bar)).map(|bar| BarIdx(bar.0 + 1)),
    };
    let after = matched.stays(BarIdx(last.0 + 1)).and_then(|bar| bar.0.checked_sub(1)).map(BarIdx);
    let inside = (first.0..=last.0).find_map(|bar| matched.stays(BarIdx(bar)));
    let known = before.is_some() || after.is_some() || inside.is_some();
    let now = [before, after, inside].into_iter().flatten().find_map(|bar| around(hand.new_blocks, bar));
    let new = now.and_then(|now| hand.new_blocks.get(now)).unwrap_or_default();
    if !known || new.len() > MOST_IN_A_ROW || old.len() > MOST_IN_A_ROW {
        return None;
    }
    let (one, other) = (told(hand.old, old), told(hand.new, new));
    // Only those that are counted otherwise.
    let begin = one.iter().zip(&other).take_while(|(one, other)| one == other).count();
    let least = one.len().min(other.len()) - begin;
    let end = one.iter().rev().zip(other.iter().rev()).take(least).take_while(|(one, other)| one == other).count();
    let (gone, come) = (one.get(begin..one.len() - end)?, other.get(begin..other.len() - end)?);
    let at = old.get(begin).or(old.last())?.bars.first;
    let text = match (gone.is_empty(), come.is_empty()) {
        (true, true) => return None,
        (true, false) if begin < old.len() => format!("before it, {}", rests(come)),
        (true, false) => format!("after the rest, {}", rests(come)),
        (false, true) => format!("take out {}", rests(gone)),
        (false, false) => format!("{} in place of {}", rests(come), gone.join(", ")),
    };
    Some(Erratum { old_bar: at, new_bar: new.first().map(|block| block.bars.first), onset: None, text })
}

/// "a rest of 12", "rests of C 17, D 12".
fn rests(told: &[String]) -> String {
    let noun = if told.len() == 1 { "a rest" } else { "rests" };
    format!("{noun} of {}", told.join(", "))
}

/// Counts with the letters that they begin with: "8", "C 12".
fn told(score: &Score, blocks: &[Block]) -> Vec<String> {
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
    blocks.iter().map(one).collect()
}
