//! What was told of the music, held against the truth: cell by cell, a cell being one bar of a part that both drafts have.

use std::collections::BTreeMap;

use rastrum::compare::{Music, PartPair, What};
use rastrum::place::BarIdx;
use rastrum::score::Score;

use super::content::{contents, whole};
use super::truth::Truth;

/// What came of one copy.
#[derive(Clone, Debug, Default)]
pub struct Judged {
    /// Cells of both sides; and those that are right.
    pub cells: u64,
    pub right: u64,
    /// Cells that nothing was done to and that have a partner with the same in it; and those of them called edited.
    pub untouched: u64,
    pub invented: u64,
    /// All parts are matched as seeded.
    pub parts: bool,
    /// What was wrong, in words, for whoever looks into it.
    pub wrong: Vec<String>,
}

/// What was told, by place in the second draft.
struct Told {
    bars: Vec<Option<usize>>,
    /// What changed in cells with other music, by new bar and new part.
    edited: BTreeMap<(usize, usize), Vec<What>>,
    /// The old part of each new one, where it has one.
    parts: BTreeMap<usize, usize>,
}

pub fn judge(old: &Score, new: &Score, truth: &Truth, music: &Music) -> Judged {
    let told = told(music, new.bars.len());
    let mut judged = Judged { parts: parts_as_seeded(truth, &music.parts, old.parts.len()), ..Judged::default() };
    if !judged.parts {
        judged.wrong.push(format!("parts: {:?}", odd_parts(truth, &music.parts)));
    }
    let kept: Vec<usize> = truth.parts.iter().filter_map(|part| part.is).collect();
    let new_kept: Vec<usize> = (0..truth.parts.len()).filter(|at| truth.parts[*at].is.is_some()).collect();
    let inserted = Swapped::of(
        &(0..new.bars.len()).filter(|bar| truth.bars[*bar].is.is_none()).collect::<Vec<_>>(),
        &(0..new.bars.len()).filter(|bar| told.bars[*bar].is_none()).collect::<Vec<_>>(),
        |bar| whole(new, bar, &new_kept),
    );
    for (at, bar) in truth.bars.iter().enumerate() {
        for (to, part) in truth.parts.iter().enumerate() {
            let Some(from) = part.is else { continue };
            judged.cells += 1;
            if told.parts.get(&to) != Some(&from) {
                continue;
            }
            let what = told.edited.get(&(at, to));
            let is_edited = what.is_some();
            let right = match (told.bars[at], bar.is) {
                (None, None) => true,
                (Some(told), Some(is)) if told == is => {
                    let wanted = truth.is_edited(is, from);
                    judged.untouched += u64::from(!wanted);
                    judged.invented += u64::from(is_edited && !wanted);
                    is_edited == wanted
                }
                // Another bar with the same in it is as good.
                (Some(told), _) => {
                    let same = contents(old, told, from) == contents(new, at, to);
                    judged.untouched += u64::from(same);
                    judged.invented += u64::from(is_edited && same);
                    same && !is_edited
                }
                (None, Some(_)) => inserted.is_as_good(at),
            };
            judged.right += u64::from(right);
            if !right {
                let seeded = bar.is.and_then(|is| truth.edits.get(&(is, from))).map(|edited| edited.kind);
                judged.wrong.push(format!(
                    "new bar {at} of new part {to}: is {:?}, told {:?}; edited as {seeded:?}, told {what:?}",
                    bar.is, told.bars[at],
                ));
            }
        }
    }
    taken_out((old, &kept), (new, &new_kept), truth, music, &mut judged);
    judged
}

fn told(music: &Music, count: usize) -> Told {
    let mut told = Told { bars: vec![None; count], edited: BTreeMap::new(), parts: BTreeMap::new() };
    told.parts.extend(music.parts.iter().filter_map(|pair| Some((pair.new?.at(), pair.old?.at()))));
    for pair in &music.bars {
        let Some(new) = pair.new else { continue };
        told.bars[new.at()] = pair.old.map(BarIdx::at);
        for cell in pair.cells.iter().filter(|cell| cell.is_music()) {
            if let Some(part) = music.parts[cell.part].new {
                told.edited.insert((new.at(), part.at()), cell.what.clone());
            }
        }
    }
    told
}

/// Bars of one draft that are said to have no partner, held against those that have none.
struct Swapped {
    /// Said wrongly, but another one with the same in it was not said.
    as_good: Vec<usize>,
    /// Those others.
    stood_for: Vec<usize>,
}

impl Swapped {
    fn of<T: PartialEq>(are: &[usize], said: &[usize], what: impl Fn(usize) -> T) -> Swapped {
        let unsaid = are.iter().filter(|bar| !said.contains(bar));
        let mut unsaid: Vec<(usize, T)> = unsaid.map(|bar| (*bar, what(*bar))).collect();
        let mut swapped = Swapped { as_good: Vec::new(), stood_for: Vec::new() };
        if unsaid.is_empty() {
            return swapped;
        }
        for bar in said.iter().filter(|bar| !are.contains(bar)) {
            let own = what(*bar);
            if let Some(at) = unsaid.iter().position(|(_, other)| *other == own) {
                swapped.as_good.push(*bar);
                swapped.stood_for.push(unsaid.remove(at).0);
            }
        }
        swapped
    }

    fn is_as_good(&self, bar: usize) -> bool {
        self.as_good.contains(&bar)
    }
}

/// Old bars that are out, or are said to be; each draft with the parts that both have.
fn taken_out(
    (old, kept): (&Score, &[usize]),
    (new, new_kept): (&Score, &[usize]),
    truth: &Truth,
    music: &Music,
    judged: &mut Judged,
) {
    let are = truth.deleted(old.bars.len());
    let mut said = Vec::new();
    // Where one that is out was put in elsewhere, it has moved as well.
    let mut found_again = Vec::new();
    for pair in &music.bars {
        match (pair.old.map(BarIdx::at), pair.new.map(BarIdx::at)) {
            (Some(bar), None) => said.push(bar),
            (Some(bar), Some(now)) if are.contains(&bar) && whole(old, bar, kept) == whole(new, now, new_kept) => {
                found_again.push(bar);
            }
            _ => {}
        }
    }
    let swapped = Swapped::of(&are, &said, |bar| whole(old, bar, kept));
    let mut all: Vec<usize> = are.iter().chain(&said).copied().collect();
    all.sort_unstable();
    all.dedup();
    for bar in all {
        let as_seeded = are.contains(&bar) && said.contains(&bar);
        let as_good = swapped.is_as_good(bar) || swapped.stood_for.contains(&bar) || found_again.contains(&bar);
        judged.cells += kept.len() as u64;
        if as_seeded || as_good {
            judged.right += kept.len() as u64;
        } else {
            judged.wrong.push(format!("old bar {bar}: is out {}, told {}", are.contains(&bar), said.contains(&bar)));
        }
    }
}

/// Whether every part has the partner that it was seeded with, and what became of it is told.
fn parts_as_seeded(truth: &Truth, told: &[PartPair], old_parts: usize) -> bool {
    let dropped = (0..old_parts).filter(|old| !truth.parts.iter().any(|part| part.is == Some(*old)));
    let all_dropped = dropped
        .into_iter()
        .all(|old| told.iter().any(|pair| pair.old.is_some_and(|id| id.at() == old) && pair.new.is_none()));
    all_dropped && odd_parts(truth, told).is_empty() && in_order_as_seeded(truth, told)
}

/// New parts of which something else is told than was seeded.
fn odd_parts(truth: &Truth, told: &[PartPair]) -> Vec<(usize, Option<PartPair>)> {
    let mut odd = Vec::new();
    for (at, part) in truth.parts.iter().enumerate() {
        let pair = told.iter().find(|pair| pair.new.is_some_and(|id| id.at() == at));
        let as_seeded = pair.is_some_and(|pair| {
            let both = part.is.is_some();
            let named = pair.renamed == (both && part.name.is_some());
            let written = pair.retransposed == (both && part.transposed.is_some());
            pair.old.map(|id| id.at()) == part.is && named && written
        });
        if !as_seeded {
            odd.push((at, pair.copied()));
        }
    }
    odd
}

/// Which of two parts changed places nobody can tell: the others must stand in order, and no more may be said to stand
/// elsewhere than have to.
fn in_order_as_seeded(truth: &Truth, told: &[PartPair]) -> bool {
    let order: Vec<usize> = truth.parts.iter().filter_map(|part| part.is).collect();
    let mut stay: Vec<(usize, usize)> =
        told.iter().filter(|pair| !pair.reordered).filter_map(|pair| Some((pair.new?.at(), pair.old?.at()))).collect();
    stay.sort_unstable();
    stay.is_sorted_by_key(|(_, old)| *old) && stay.len() == longest_rise(&order)
}

/// The most numbers of a list that can stay where they are so that they rise.
fn longest_rise(list: &[usize]) -> usize {
    let mut best: Vec<usize> = Vec::with_capacity(list.len());
    for at in 0..list.len() {
        let before = (0..at).filter(|other| list[*other] < list[at]).map(|other| best[other]).max();
        best.push(before.unwrap_or(0) + 1);
    }
    best.into_iter().max().unwrap_or(0)
}
