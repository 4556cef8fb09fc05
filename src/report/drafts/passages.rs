//! Edited bars, by player and passage.

use super::words;
use crate::check::Compared;
use crate::compare::{BarPair, Status, What};
use crate::place::BarSpan;
use crate::report::blocks::{heading, list};
use crate::report::pdf::Block;
use crate::words::{all_listed, counted, sentence};

/// Passages told of one part.
const MOST: usize = 12;

/// Neighbouring bars with the same kinds of change as one line.
pub(super) fn blocks(compared: &Compared) -> Vec<Block> {
    let music = &compared.music;
    let mut blocks = Vec::new();
    let everybody = |pair: &BarPair| pair.over.clone();
    add(compared, "Everybody", &everybody, &mut blocks);
    for (at, part) in music.parts.iter().enumerate() {
        let own = |pair: &BarPair| -> Vec<What> {
            pair.cells.iter().filter(|cell| cell.part == at).flat_map(|cell| cell.what.clone()).collect()
        };
        add(compared, &words::part_name(part, compared), &own, &mut blocks);
    }
    blocks
}

fn add(compared: &Compared, who: &str, what: &dyn Fn(&BarPair) -> Vec<What>, blocks: &mut Vec<Block>) {
    let Some((old, new)) = compared.sides() else { return };
    let mut passages: Vec<(BarSpan, BarSpan, Vec<What>, bool)> = Vec::new();
    for pair in &compared.music.bars {
        let Some((was, is)) = pair.old.zip(pair.new) else { continue };
        let mut kinds = what(pair);
        // Stems alone are nobody's business here.
        kinds.retain(|kind| *kind != What::Layout);
        if kinds.is_empty() {
            continue;
        }
        let moved = pair.status == Status::Moved;
        match passages.last_mut() {
            Some((bars, olds, known, went))
                if *known == kinds && *went == moved && bars.last.0 + 1 == is.0 && olds.last.0 + 1 == was.0 =>
            {
                (bars.last, olds.last) = (is, was);
            }
            _ => passages.push((BarSpan::one(is), BarSpan::one(was), kinds, moved)),
        }
    }
    if passages.is_empty() {
        return;
    }
    let (before, score) = (&old.checked.score, &new.checked.score);
    let line = |(bars, was, kinds, moved): &(BarSpan, BarSpan, Vec<What>, bool)| {
        let names: Vec<&str> = kinds.iter().map(|kind| words::kind(*kind)).collect();
        let from = before.span_label(*was);
        let other = if from == score.span_label(*bars) { String::new() } else { format!(" ({from} in the old draft)") };
        let moved = if *moved { ", moved" } else { "" };
        sentence(&format!("{}{other}{moved}: {}.", score.span_label(*bars), all_listed(&names)))
    };
    let mut lines: Vec<String> = passages.iter().take(MOST).map(line).collect();
    if passages.len() > MOST {
        lines.push(format!("And {}.", counted(passages.len() - MOST, "more passage")));
    }
    blocks.push(heading(who));
    blocks.push(list(lines));
}
