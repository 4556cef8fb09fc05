//! Whose line is whose in two drafts: by what is played, then by name, then by place.

use std::cmp::Ordering;
use std::ops::Range;

use super::prints::{Of, Print, Prints};
use crate::score::Score;

/// A part, or a player's line, as what it can be known by.
#[derive(Clone, Debug, Default)]
pub(super) struct Line {
    pub name: String,
    id: String,
    sound: Option<String>,
    /// Its staves in its score.
    pub staves: Range<usize>,
    /// Its bars that sound as numbers, in order of these: at pitch and by rhythm alone.
    pitched: Vec<u64>,
    rhythm: Vec<u64>,
}

/// Places in the first and in the second list.
pub(super) type Pair = (Option<usize>, Option<usize>);

/// So many of its bars must be the other's at pitch, unless the name is the same.
const AGREES: f64 = 0.3;
/// What name, sound and the file's own name for it add.
const NAMED: f64 = 0.3;
const SOUND: f64 = 0.05;
const ID: f64 = 0.02;
/// A part of the same name that plays something else altogether is still that part.
const ONLY_NAMED: f64 = 0.01;

/// The parts of a score.
pub(super) fn of_score(score: &Score, prints: &Prints) -> Vec<Line> {
    let mut from = 0;
    let mut lines = Vec::with_capacity(score.parts.len());
    for (at, part) in score.parts.iter().enumerate() {
        let count = score.staves.iter().skip(from).take_while(|staff| staff.part.at() == at).count();
        let mut line = Line {
            name: tidy(&part.name),
            id: part.id.clone(),
            sound: part.sounds.first().cloned(),
            staves: from..from + count,
            ..Line::default()
        };
        for bar in 0..score.bars.len() {
            line.take(&Print::of_part(prints.at(bar, &line.staves), false));
        }
        line.pitched.sort_unstable();
        line.rhythm.sort_unstable();
        from += count;
        lines.push(line);
    }
    lines
}

fn tidy(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

impl Line {
    fn take(&mut self, print: &Print) {
        if print.sounds() {
            self.pitched.push(print.get(Of::Pitches).wrapping_add(print.get(Of::Rhythm)));
            self.rhythm.push(print.get(Of::Rhythm));
        }
    }

    fn sounds(&self) -> bool {
        !self.pitched.is_empty()
    }

    pub fn is_named_as(&self, other: &Line) -> bool {
        self.name.to_lowercase() == other.name.to_lowercase()
    }

    /// Share of the bars that sound in either which stand in both, from 0 to 1: at pitch, and where rhythm alone counts for
    /// less.
    fn agreement(&self, other: &Line) -> (f64, f64) {
        const RHYTHM: f64 = 0.5;
        let all = self.pitched.len() + other.pitched.len();
        if all == 0 {
            return (0.0, 0.0);
        }
        let pitched = 2.0 * common(&self.pitched, &other.pitched) as f64 / all as f64;
        let rhythm = 2.0 * common(&self.rhythm, &other.rhythm) as f64 / all as f64;
        (pitched, pitched.max(rhythm * RHYTHM))
    }

    /// How well two lines fit; `None` where they are not one.
    fn fits(&self, other: &Line) -> Option<f64> {
        let (pitched, agreement) = self.agreement(other);
        let named = self.is_named_as(other) && !self.name.is_empty();
        // The same rhythm under another name is no proof.
        let enough = pitched >= AGREES || named;
        let add = |is: bool, by: f64| if is { by } else { 0.0 };
        let sound = self.sound.is_some() && self.sound == other.sound;
        enough.then_some(
            agreement.max(add(named, ONLY_NAMED))
                + add(named, NAMED)
                + add(sound, SOUND)
                + add(self.id == other.id, ID),
        )
    }
}

/// How many numbers stand in both of two lists in order, each as often as in the one that has fewer of it.
fn common(one: &[u64], other: &[u64]) -> usize {
    let (mut one, mut other) = (one.iter().peekable(), other.iter().peekable());
    let mut both = 0;
    while let (Some(left), Some(right)) = (one.peek(), other.peek()) {
        match left.cmp(right) {
            Ordering::Less => _ = one.next(),
            Ordering::Greater => _ = other.next(),
            Ordering::Equal => {
                both += 1;
                _ = (one.next(), other.next());
            }
        }
    }
    both
}

/// Which lines belong together, each once: in the order of the second list, those left out where they stood.
pub(super) fn matched(old: &[Line], new: &[Line]) -> Vec<Pair> {
    let mut fits: Vec<(f64, usize, usize)> = Vec::new();
    for (at, line) in old.iter().enumerate() {
        fits.extend(new.iter().enumerate().filter_map(|(to, other)| Some((line.fits(other)?, at, to))));
    }
    // The best first; among equals in the order of the scores, and those that keep their distance to each other.
    fits.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)).then(one.2.cmp(&other.2)));
    let (mut of_old, mut of_new) = (vec![None; old.len()], vec![None; new.len()]);
    for (_, at, to) in fits {
        pair(&mut of_old, &mut of_new, at, to);
    }
    silent_neighbours(old, new, &mut of_old, &mut of_new);
    in_order(&of_old, &of_new)
}

fn pair(of_old: &mut [Option<usize>], of_new: &mut [Option<usize>], at: usize, to: usize) {
    if let Some((one, other)) = of_old.get_mut(at).zip(of_new.get_mut(to))
        && one.is_none()
        && other.is_none()
    {
        (*one, *other) = (Some(to), Some(at));
    }
}

/// Lines without a note and of other names are known by their neighbours alone.
fn silent_neighbours(old: &[Line], new: &[Line], of_old: &mut [Option<usize>], of_new: &mut [Option<usize>]) {
    for (at, line) in old.iter().enumerate() {
        if line.sounds() || of_old.get(at).copied().flatten().is_some() {
            continue;
        }
        let after = at.checked_sub(1).and_then(|before| of_old.get(before).copied().flatten()).map(|to| to + 1);
        let before = of_old.get(at + 1).copied().flatten().and_then(|to| to.checked_sub(1));
        let first = (at == 0).then_some(0);
        let silent = |to: &usize| {
            let is_free = of_new.get(*to).is_some_and(Option::is_none);
            is_free && new.get(*to).is_some_and(|other| !other.sounds() && other.staves.len() == line.staves.len())
        };
        if let Some(to) = after.or(first).filter(silent).or(before.filter(silent)) {
            pair(of_old, of_new, at, to);
        }
    }
}

fn in_order(of_old: &[Option<usize>], of_new: &[Option<usize>]) -> Vec<Pair> {
    let mut pairs = Vec::with_capacity(of_old.len().max(of_new.len()));
    let mut dropped = of_old.iter().enumerate().filter(|(_, to)| to.is_none()).map(|(at, _)| at).peekable();
    for (to, old) in of_new.iter().enumerate() {
        if let Some(old) = *old {
            while let Some(at) = dropped.next_if(|at| *at < old) {
                pairs.push((Some(at), None));
            }
        }
        pairs.push((*old, Some(to)));
    }
    pairs.extend(dropped.map(|at| (Some(at), None)));
    pairs
}
