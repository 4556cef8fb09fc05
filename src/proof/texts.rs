//! Text and landmarks: dynamics, words for the player, and what concerns everybody, over whichever staff it stands.

use super::side::{Both, Pairs, Side};
use super::{Class, Proof};
use crate::place::BarIdx;
use crate::score::{MarkKind, SystemMark, SystemMarkKind};
use crate::units::Fraction;

mod alike;
mod items;
mod matching;

use items::{Item, Kind};

/// How far a mark may stand from where the score has it: half a beat, and never across a barline. Common practice.
pub(super) fn tolerance(side: &Side<'_>, at: usize) -> Fraction {
    let value = side.bar(at).and_then(|bar| bar.metre.as_ref()).map_or(4, |metre| metre.beat_value.max(4));
    Fraction::new(2, i64::from(value)).unwrap_or(Fraction::ZERO)
}

/// Whether two places in a bar are the same to the player.
pub(super) fn near(one: Fraction, other: Fraction, tolerance: Fraction) -> bool {
    let (low, high) = (one.min(other), one.max(other));
    high.checked_sub(low).is_some_and(|apart| apart <= tolerance)
}

/// The same place: where it takes effect, or where the file has it.
fn close(one: &Item, other: &Item, tolerance: Fraction) -> bool {
    near(one.onset, other.onset, tolerance) || near(one.written, other.written, tolerance)
}

/// What everybody counts from, bar by bar: rehearsal marks, tempos, pauses, metres, repeats, double bars.
pub(super) fn landmark_words(side: &Side<'_>) -> Vec<Vec<String>> {
    let mut words: Vec<Vec<String>> = vec![Vec::new(); side.count()];
    for mark in printed(side) {
        let word = match &mark.kind {
            SystemMarkKind::Rehearsal(text) => format!("rehearsal mark {text}"),
            SystemMarkKind::Tempo { words, metronome, .. } => {
                let count = metronome.as_ref().map_or("", |metronome| metronome.per_minute.as_str());
                if words.is_empty() { format!("tempo {count}") } else { words.clone() }
            }
            SystemMarkKind::TempoMoves(text) | SystemMarkKind::Jump(text) => text.clone(),
            SystemMarkKind::GeneralPause => "general pause".to_owned(),
        };
        if let Some(own) = at(side, mark.bar).and_then(|at| words.get_mut(at))
            && !own.contains(&word)
        {
            own.push(word);
        }
    }
    for (at, own) in words.iter_mut().enumerate() {
        let Some(bar) = side.bar(at) else { continue };
        let before = at.checked_sub(1).and_then(|before| side.bar(before));
        if at > 0 && bar.metre_changes {
            own.extend(bar.metre.as_ref().map(|metre| metre.text.clone()));
        }
        if bar.left.repeat || before.is_some_and(|before| before.right.repeat) {
            own.push("a repeat".to_owned());
        } else if bar.left.is_double || before.is_some_and(|before| before.right.is_double) {
            own.push("a double bar".to_owned());
        }
        if bar.ending.as_ref().is_some_and(|ending| ending.starts) {
            own.push("an ending".to_owned());
        }
    }
    words
}

/// Marks over the system that are printed, in order.
fn printed<'a>(side: &Side<'a>) -> impl Iterator<Item = &'a SystemMark> {
    let bars = side.span(0, side.count().saturating_sub(1));
    side.music.marks.iter().filter(move |mark| !mark.over.is_empty() && bars.contains(mark.bar))
}

/// A bar of the music as this side counts it.
fn at(side: &Side<'_>, bar: BarIdx) -> Option<usize> {
    bar.at().checked_sub(side.first).filter(|at| *at < side.count())
}

pub(super) fn compare(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    dynamics(both, pairs, found);
    let line = items::overhead_and_words(both, &both.line);
    let part = items::overhead_and_words(both, &both.part);
    matching::tell(both, pairs, line, part, found);
}

/// Dynamics bar by bar.
fn dynamics(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    for pair in &pairs.both {
        // Where nobody can say who plays, nobody can say whose the dynamics are.
        if both.open(pair.0).is_some() {
            continue;
        }
        let of = |side: &Side<'_>, at: usize| -> Vec<Item> {
            let text = |kind: &MarkKind| if let MarkKind::Dynamic(text) = kind { Some(text.clone()) } else { None };
            items::staff(side, at, Kind::Dynamic, text)
        };
        let (mut line, mut part) = (of(&both.line, pair.0), of(&both.part, pair.1));
        let tolerance = tolerance(&both.line, pair.0);
        matching::take(&mut line, &mut part, |a, b| a.text == b.text && close(a, b, tolerance));
        matching::of_bar(both, *pair, Class::Dynamic, &line, &part, found);
    }
}
