//! Which item of the part stands for which of the score, and what is told of those that none stands for.

use super::alike::alike;
use super::items::{Item, Kind};
use super::{close, tolerance};
use crate::proof::side::{Both, Pairs, Side, Spot};
use crate::proof::words::beat;
use crate::proof::{Class, Proof};
use crate::score::MarkKind;
use crate::words::all_listed;

/// A landmark that stands so many bars off has been moved; farther off it is another one.
const MOVED: usize = 8;

/// Takes out the pairs that `same` allows, each item of the line with the first of the part.
pub(super) fn take(
    line: &mut Vec<Item>,
    part: &mut Vec<Item>,
    same: impl Fn(&Item, &Item) -> bool,
) -> Vec<(Item, Item)> {
    let mut pairs = Vec::new();
    line.retain(|own| match part.iter().position(|other| same(own, other)) {
        Some(at) => {
            pairs.push((own.clone(), part.remove(at)));
            false
        }
        None => true,
    });
    pairs
}

/// What is left of one bar, as one line: "f on beat 3" and "nothing".
pub(super) fn of_bar(
    both: &Both<'_>,
    pair: (usize, usize),
    class: Class,
    line: &[Item],
    part: &[Item],
    found: &mut Proof,
) {
    let Some(onset) = line.iter().chain(part).map(|item| item.onset).min() else { return };
    let words = |side: &Side<'_>, at: usize, items: &[Item]| match items {
        [] => "nothing".to_owned(),
        _ => {
            let word = |item: &Item| format!("{} on {}", item.words(), beat(item.onset, side.bar(at)));
            all_listed(&items.iter().map(word).collect::<Vec<_>>())
        }
    };
    let (score, own) = (words(&both.line, pair.0, line), words(&both.part, pair.1, part));
    found.differs(class, both.pair(pair, Some(onset)), score, own);
}

fn class(kind: Kind) -> Class {
    match kind {
        Kind::Rehearsal => Class::Landmark,
        Kind::Tempo | Kind::Count | Kind::TempoMoves => Class::Tempo,
        Kind::GeneralPause => Class::Pause,
        Kind::Jump => Class::Repeat,
        Kind::Words => Class::Words,
        Kind::Dynamic => Class::Dynamic,
    }
}

/// Compares everything, over all bars.
pub(super) fn tell(both: &Both<'_>, pairs: &Pairs, mut line: Vec<Item>, mut part: Vec<Item>, found: &mut Proof) {
    // What stood in bars that are missing, or stands in bars that are too many, went with them.
    line.retain(|item| pairs.to_part.get(item.bar).copied().flatten().is_some());
    part.retain(|item| pairs.to_line.get(item.bar).copied().flatten().is_some());
    line.retain(|item| item.kind != Kind::Words || both.open(item.bar).is_none());
    part.retain(|item| item.kind != Kind::Words || both.open(pairs.line_near(item.bar)).is_none());
    let of_line = |item: &Item| pairs.to_line.get(item.bar).copied().flatten();
    let is_mark = |item: &Item| item.kind == Kind::Rehearsal;
    let says_same = |a: &Item, b: &Item| {
        is_mark(a) == is_mark(b) && (a.kind == Kind::Count) == (b.kind == Kind::Count) && alike(&a.text, &b.text)
    };
    let here = |a: &Item, b: &Item| of_line(b) == Some(a.bar);
    let close = |a: &Item, b: &Item| is_mark(a) || close(a, b, tolerance(&both.line, a.bar));
    take(&mut line, &mut part, |a, b| here(a, b) && close(a, b) && says_same(a, b));
    let moved_in_bar = take(&mut line, &mut part, |a, b| here(a, b) && says_same(a, b));
    for (one, other) in &moved_in_bar {
        let words =
            |side: &Side<'_>, item: &Item| format!("{} on {}", item.words(), beat(item.onset, side.bar(item.bar)));
        found.differs(class(one.kind), spot(both, one, other), words(&both.line, one), words(&both.part, other));
    }
    let moved = take(&mut line, &mut part, |a, b| {
        a.kind != Kind::Words && says_same(a, b) && of_line(b).is_some_and(|bar| bar.abs_diff(a.bar) <= MOVED)
    });
    for (one, other) in &moved {
        let line_bar = of_line(other).unwrap_or(one.bar);
        let words = |item: &Item, bar: usize| {
            format!("{} at {}", item.words(), both.score.span_label(both.line.span(bar, bar)))
        };
        found.differs(class(one.kind), spot(both, one, other), words(one, one.bar), words(other, line_bar));
    }
    let changed = take(&mut line, &mut part, |a, b| here(a, b) && a.kind == b.kind && close(a, b));
    for (one, other) in &changed {
        found.differs(class(one.kind), spot(both, one, other), one.words(), other.words());
    }
    let at_part = |item: &Item| pairs.to_part.get(item.bar).copied().flatten();
    for group in grouped(&line) {
        let Some(item) = group.first() else { continue };
        let spot = Spot {
            bars: both.line.span(item.bar, item.bar),
            part_bars: at_part(item).map(|at| both.part.span(at, at)),
            onset: Some(item.onset),
        };
        found.differs(class(item.kind), spot, words(group), "nothing");
    }
    // Words that stand over another staff and may concern everybody: a careful copyist takes them along.
    part.retain(|item| !stands_somewhere(both, pairs, item));
    for group in grouped(&part) {
        let Some(item) = group.first() else { continue };
        let line = pairs.line_near(item.bar);
        let spot = Spot {
            bars: both.line.span(line, line),
            part_bars: Some(both.part.span(item.bar, item.bar)),
            onset: Some(item.onset),
        };
        found.differs(class(item.kind), spot, "nothing", words(group));
    }
}

/// Neighbouring items of one kind at one place: a tempo and its metronome mark.
fn grouped(items: &[Item]) -> impl Iterator<Item = &[Item]> {
    items.chunk_by(|a, b| (a.bar, a.onset, class(a.kind)) == (b.bar, b.onset, class(b.kind)))
}

fn words(items: &[Item]) -> String {
    all_listed(&items.iter().map(Item::words).collect::<Vec<_>>())
}

/// Whether the score has these words over any staff in that bar.
fn stands_somewhere(both: &Both<'_>, pairs: &Pairs, item: &Item) -> bool {
    let Some(line) = pairs.to_line.get(item.bar).copied().flatten() else { return false };
    let (bar, staves) = (both.line.idx(line).at(), both.score.staves.len());
    let cells = both.score.cells.get(bar * staves..(bar + 1) * staves).unwrap_or_default();
    let concerns_all = matches!(item.kind, Kind::Tempo | Kind::TempoMoves | Kind::Jump);
    concerns_all
        && cells.iter().flat_map(|cell| &cell.marks).any(|mark| match &mark.kind {
            MarkKind::Words(text) => alike(text, &item.text),
            _ => false,
        })
}

fn spot(both: &Both<'_>, one: &Item, other: &Item) -> Spot {
    Spot {
        bars: both.line.span(one.bar, one.bar),
        part_bars: Some(both.part.span(other.bar, other.bar)),
        onset: Some(one.onset),
    }
}
