//! What stands over a bar, or around it, for everybody: metre, barlines, rehearsal marks, tempos, jumps.

use super::{BarPair, What};
use crate::place::BarIdx;
use crate::score::{Bar, Score, SystemMark, SystemMarkKind};

/// Fills in what changed for everybody.
pub(super) fn compare(old: &Score, new: &Score, pairs: &mut [BarPair]) {
    let marks = (by_bar(old), by_bar(new));
    for pair in pairs {
        let Some((one, other)) = pair.old.zip(pair.new) else { continue };
        let Some((bar, own)) = old.bar(one).zip(new.bar(other)) else { continue };
        let mut tell = |differs: bool, what: What| {
            if differs {
                pair.over.push(what);
            }
        };
        let of = |score: &Score, at: BarIdx, marks: &[Vec<usize>], kind: Kind| said(score, marks.get(at.at()), kind);
        let differs = |kind: Kind| of(old, one, &marks.0, kind) != of(new, other, &marks.1, kind);
        tell(metre(bar) != metre(own), What::Metre);
        tell(barlines(bar) != barlines(own) || differs(Kind::Jump), What::Barlines);
        tell(differs(Kind::Landmark), What::Landmarks);
        tell(differs(Kind::Tempo), What::Tempo);
    }
}

/// Marks of each bar, by their place among all.
fn by_bar(score: &Score) -> Vec<Vec<usize>> {
    let mut of = vec![Vec::new(); score.bars.len()];
    for (at, mark) in score.marks.iter().enumerate() {
        if let Some(own) = of.get_mut(mark.bar.at()) {
            own.push(at);
        }
    }
    of
}

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Landmark,
    Tempo,
    Jump,
}

/// What marks of a kind say in one bar; playback tempos are not printed.
fn said(score: &Score, marks: Option<&Vec<usize>>, kind: Kind) -> Vec<String> {
    let own = marks.into_iter().flatten().filter_map(|at| score.marks.get(*at));
    let mut said: Vec<String> = own.filter_map(|mark| words(mark, kind)).collect();
    said.sort_unstable();
    said
}

fn words(mark: &SystemMark, kind: Kind) -> Option<String> {
    let (own, words) = match &mark.kind {
        SystemMarkKind::Rehearsal(text) => (Kind::Landmark, text.trim().to_owned()),
        SystemMarkKind::Tempo { .. } if mark.over.is_empty() => return None,
        SystemMarkKind::Tempo { words, metronome, .. } => {
            let counted = metronome.as_ref().map(|mark| format!("{} = {}", mark.beat, mark.per_minute));
            (Kind::Tempo, format!("{} {}", words.trim(), counted.unwrap_or_default()))
        }
        SystemMarkKind::TempoMoves(text) => (Kind::Tempo, text.trim().to_owned()),
        SystemMarkKind::GeneralPause => (Kind::Tempo, "general pause".to_owned()),
        SystemMarkKind::Jump(text) => (Kind::Jump, text.trim().to_owned()),
    };
    (own == kind).then(|| format!("{} {words}", mark.onset))
}

fn metre(bar: &Bar) -> Option<(crate::units::Fraction, u32)> {
    bar.metre.as_ref().map(|metre| (metre.length, metre.beat_value))
}

fn barlines(bar: &Bar) -> impl PartialEq + use<> {
    let ending = bar.ending.as_ref().map(|ending| (ending.times.clone(), ending.starts, ending.stops));
    (bar.left, bar.right, ending)
}
