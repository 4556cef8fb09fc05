//! What was told, held against the plan.

use std::collections::BTreeMap;

use rastrum::compare::{Music, Status};
use rastrum::place::{BarIdx, StaffId};
use rastrum::score::{EventKind, MarkKind, Score};

use super::plan::{Plan, staves};

/// What came of one copy.
#[derive(Clone, Copy, Debug, Default)]
pub struct Judged {
    /// Cells of both sides, of parts that both have; and those that are right.
    pub cells: u64,
    pub right: u64,
    /// Untouched cells that were called edited.
    pub invented: u64,
    /// All parts are matched as planned.
    pub parts: bool,
}

/// Everything that a player reads in one bar of a part, in order; worked out from the score alone.
pub fn contents(score: &Score, bar: usize, part: usize) -> Vec<String> {
    let mut all = Vec::new();
    for (nth, staff) in staves(score, part).into_iter().enumerate() {
        let Some(cell) = score.cell(BarIdx(bar as u32), StaffId(staff as u16)) else { continue };
        for event in cell.events.iter().filter(|event| event.printed) {
            let EventKind::Chord(notes) = &event.kind else { continue };
            for note in notes {
                let height = match note.unpitched {
                    true => note.pitch.steps(),
                    false => cell.transposition.sounding(note.pitch).quarter_tones(),
                };
                let signs: Vec<String> = event.signs.names().collect();
                let words: Vec<&str> = event.lyrics.iter().map(|syllable| syllable.text.as_str()).collect();
                all.push(format!("{nth} {} {} {height} {} {signs:?} {words:?}", event.onset, event.length, event.cue));
            }
        }
        for mark in &cell.marks {
            match &mark.kind {
                MarkKind::Dynamic(text) | MarkKind::Words(text) => all.push(format!("{nth} {} {text}", mark.onset)),
                other => all.push(format!("{nth} {} {other:?}", mark.onset)),
            }
        }
    }
    all.sort();
    all
}

/// By place in the second draft: the bar of the first that it is said to be.
fn told_bars(music: &Music, count: usize) -> Vec<Option<usize>> {
    let mut told = vec![None; count];
    for pair in &music.bars {
        if let Some(new) = pair.new {
            told[new.at()] = pair.old.map(BarIdx::at);
        }
    }
    told
}

pub fn judge(old: &Score, new: &Score, plan: &Plan, music: &Music) -> Judged {
    let mut judged = Judged { parts: true, ..Judged::default() };
    let told_part: BTreeMap<usize, Option<usize>> =
        music.parts.iter().filter_map(|pair| Some((pair.new?.at(), pair.old.map(|id| id.at())))).collect();
    for (at, part) in plan.parts.iter().enumerate() {
        let pair = music.parts.iter().find(|pair| pair.new.is_some_and(|id| id.at() == at));
        let as_planned = pair.is_some_and(|pair| {
            let named = part.is.is_none() || pair.renamed == part.name.is_some();
            let transposed = part.is.is_none() || pair.retransposed == part.transposed.is_some();
            pair.old.map(|id| id.at()) == part.is && named && transposed
        });
        judged.parts &= as_planned;
    }
    let told = told_bars(music, new.bars.len());
    // Cells that differ, by bar of the new draft and part of it.
    let mut differs: BTreeMap<(usize, usize), bool> = BTreeMap::new();
    for pair in &music.bars {
        for cell in &pair.cells {
            if let (Some(new), Some(part)) = (pair.new, music.parts[cell.part].new) {
                differs.insert((new.at(), part.at()), cell.is_music());
            }
        }
    }
    for (at, bar) in plan.bars.iter().enumerate() {
        for (to, part) in plan.parts.iter().enumerate() {
            let Some(from) = part.is.filter(|_| told_part.get(&to).copied().flatten() == part.is) else {
                judged.cells += u64::from(part.is.is_some());
                continue;
            };
            judged.cells += 1;
            let is_edited = differs.get(&(at, to)) == Some(&true);
            let own = || contents(new, at, to);
            let right = match (told[at], bar.is) {
                (None, None) => true,
                (Some(told), Some(is)) if told == is => {
                    let wanted = plan.edits.contains_key(&(is, from));
                    judged.invented += u64::from(is_edited && !wanted);
                    is_edited == wanted
                }
                // Another bar of the same contents is as good, and so is one more of what stands there already.
                (Some(told), _) => !is_edited && contents(old, told, from) == own(),
                (None, Some(_)) => repeats(new, at, to),
            };
            judged.right += u64::from(right);
        }
    }
    taken_out(old, plan, music, &mut judged);
    judged
}

/// Whether a part has the same contents in another bar, so that nobody can tell which of them was put in.
fn repeats(score: &Score, at: usize, part: usize) -> bool {
    let own = contents(score, at, part);
    (0..score.bars.len()).any(|other| other != at && contents(score, other, part) == own)
}

/// Bars that are said to be out: as planned, or as good as one that was.
fn taken_out(old: &Score, plan: &Plan, music: &Music, judged: &mut Judged) {
    let kept: std::collections::BTreeSet<usize> = plan.bars.iter().filter_map(|bar| bar.is).collect();
    let parts: Vec<usize> = plan.parts.iter().filter_map(|part| part.is).collect();
    let whole = |bar: usize| -> Vec<Vec<String>> { parts.iter().map(|part| contents(old, bar, *part)).collect() };
    let mut planned: Vec<usize> = (0..old.bars.len()).filter(|bar| !kept.contains(bar)).collect();
    let said: Vec<usize> = music
        .bars
        .iter()
        .filter(|pair| pair.status == Status::Deleted)
        .filter_map(|pair| pair.old.map(BarIdx::at))
        .collect();
    let mut wrong = Vec::new();
    for bar in &said {
        match planned.iter().position(|own| own == bar) {
            Some(at) => {
                planned.remove(at);
            }
            None => wrong.push(*bar),
        }
    }
    for bar in wrong.clone() {
        let own = whole(bar);
        if let Some(at) = planned.iter().position(|other| whole(*other) == own) {
            planned.remove(at);
            wrong.retain(|other| *other != bar);
        }
    }
    let bars = (said.len().max(old.bars.len() - kept.len())) as u64;
    judged.cells += bars * parts.len() as u64;
    judged.right += (bars - (wrong.len().max(planned.len()) as u64).min(bars)) * parts.len() as u64;
}
