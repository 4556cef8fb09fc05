//! Which bars belong together, which are missing or too many, and rests that are counted wrong.

use std::hash::{DefaultHasher, Hash, Hasher};

use super::heard::HeardNote;
use super::side::{Both, Pairs, Side, Spot};
use super::texts::landmark_words;
use super::{Class, Proof};
use crate::align::{self, Alike, Step, align};
use crate::units::Fraction;
use crate::words::counted;

mod settle;

/// Pairs the bars and tells what has no partner.
pub(super) fn compare(both: &Both<'_>, found: &mut Proof) -> Pairs {
    let (mut steps, prints) = steps(both);
    settle::slide(both, &mut steps, |left, one, other| {
        let side = if left { &prints.line } else { &prints.part };
        let notes = |at: usize| side.get(at).map(|print| (print.notes, print.landmarks));
        notes(one).is_some_and(|(sounds, _)| sounds != 0) && notes(one) == notes(other)
    });
    let runs = runs(both, &steps);
    settle::settle(both, &mut steps, &runs);
    for rest in rests(both, &steps) {
        rest.tell(both, found);
    }
    tell_played(both, &steps, found);
    pairs(both, &steps)
}

fn pairs(both: &Both<'_>, steps: &[Step]) -> Pairs {
    let mut pairs = Pairs {
        both: Vec::with_capacity(steps.len()),
        to_part: vec![None; both.line.count()],
        to_line: vec![None; both.part.count()],
    };
    for step in steps {
        let Step::Both(line, part) = *step else { continue };
        pairs.both.push((line, part));
        if let Some(place) = pairs.to_part.get_mut(line) {
            *place = Some(part);
        }
        if let Some(place) = pairs.to_line.get_mut(part) {
            *place = Some(line);
        }
    }
    pairs
}

/// What a bar is known by.
struct Print {
    /// Of its notes; 0 for silence.
    notes: u64,
    /// Of what stands over it for everybody; 0 for nothing.
    landmarks: u64,
    rhythm: Vec<(u64, u64)>,
    /// How long it lasts.
    length: Fraction,
}

fn prints(side: &Side<'_>) -> Vec<Print> {
    let words = landmark_words(side);
    let print = |at: usize, words: &Vec<String>| {
        let notes = side.heard.get(at).map_or(&[][..], |heard| &heard.notes);
        let unwritten = side.heard.get(at).is_some_and(|heard| heard.unwritten);
        let keys: Vec<_> = notes.iter().map(HeardNote::key).collect();
        let rhythm = notes.iter().map(|note| (hash(&(note.onset, note.grace, note.length)), hash(&note.key())));
        Print {
            notes: if unwritten { 1 } else { hash_or_none(&keys) },
            landmarks: hash_or_none(words),
            rhythm: rhythm.collect(),
            length: side.bar(at).map_or(Fraction::ZERO, |bar| bar.length),
        }
    };
    words.iter().enumerate().map(|(at, words)| print(at, words)).collect()
}

fn hash(what: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    what.hash(&mut hasher);
    hasher.finish()
}

fn hash_or_none<T: Hash>(what: &Vec<T>) -> u64 {
    if what.is_empty() { 0 } else { hash(what) }
}

struct Prints {
    line: Vec<Print>,
    part: Vec<Print>,
}

/// Two silences are alike, but say little; so does one landmark more.
const SILENCES: f64 = 0.3;
const LANDMARK: f64 = 0.3;
/// Bars that last as long.
const LENGTH: f64 = 0.2;
/// Notes of the same pitches weigh more than the same rhythm alone.
const PITCHED: f64 = 0.6;

impl Alike for Prints {
    fn likeness(&self, line: usize, part: usize) -> f64 {
        let Some((line, part)) = self.line.get(line).zip(self.part.get(part)) else { return 0.0 };
        let same_landmark = line.landmarks != 0 && line.landmarks == part.landmarks;
        let landmark = if same_landmark { LANDMARK } else { 0.0 };
        let notes = match (line.notes == 0, part.notes == 0) {
            (true, true) => SILENCES,
            (false, false) if line.notes == part.notes => 1.0,
            (false, false) => likeness(line, part),
            _ => 0.0,
        };
        notes + landmark + if line.length == part.length { LENGTH } else { 0.0 }
    }

    fn weight(&self, line: usize) -> f64 {
        self.line.get(line).map_or(0.0, |print| {
            let notes = if print.notes == 0 { 0.1 } else { 1.0 };
            notes + if print.landmarks == 0 { 0.0 } else { 1.0 }
        })
    }
}

/// Twice what they have in common, of all that both have.
fn likeness(line: &Print, part: &Print) -> f64 {
    let all = (line.rhythm.len() + part.rhythm.len()) as f64;
    if all == 0.0 {
        return 0.0;
    }
    let share = |of: fn(&(u64, u64)) -> u64| {
        let mut left: Vec<u64> = part.rhythm.iter().map(of).collect();
        let common = line.rhythm.iter().filter(|own| {
            let at = left.iter().position(|other| *other == of(own));
            at.map(|at| left.swap_remove(at)).is_some()
        });
        2.0 * common.count() as f64 / all
    };
    PITCHED * share(|own| own.1) + (1.0 - PITCHED) * share(|own| own.0)
}

/// With what stands over the bars, or where that leaves fewer bars alone, by their notes only: then a landmark moved.
fn steps(both: &Both<'_>) -> (Vec<Step>, Prints) {
    let prints = Prints { line: prints(&both.line), part: prints(&both.part) };
    let keys = |side: &[Print], landmarks: bool| -> Vec<(u64, u64)> {
        side.iter().map(|print| (print.notes, if landmarks { print.landmarks } else { 0 })).collect()
    };
    let with = align(&keys(&prints.line, true), &keys(&prints.part, true), &prints);
    let without = align(&keys(&prints.line, false), &keys(&prints.part, false), &prints);
    let steps = if align::unmatched(&without) < align::unmatched(&with) { without } else { with };
    (steps, prints)
}

/// A silence between two entries or landmarks, with bars that have no partner.
struct Rest {
    line: (usize, usize),
    part: (usize, usize),
    counts: (usize, usize),
}

impl Rest {
    fn tell(&self, both: &Both<'_>, found: &mut Proof) {
        let bars = both.line.span(self.line.0, self.line.1);
        let spot = Spot { bars, part_bars: Some(both.part.span(self.part.0, self.part.1)), onset: None };
        let words = |bars: usize| format!("{} of rest", counted(bars, "bar"));
        found.differs(Class::RestCount, spot, words(self.counts.0), words(self.counts.1));
    }
}

/// Whether a step is about silent bars, on whichever side it has one.
fn is_rest(both: &Both<'_>, step: &Step) -> bool {
    match *step {
        Step::Both(line, part) => both.line.is_silent(line) && both.part.is_silent(part),
        Step::Left(line) => both.line.is_silent(line),
        Step::Right(part) => both.part.is_silent(part),
    }
}

/// Runs of silent bars up to the next landmark of the score, as ranges of steps.
fn runs(both: &Both<'_>, steps: &[Step]) -> Vec<std::ops::Range<usize>> {
    let landmarks = landmark_words(&both.line);
    let begins = |step: &Step| match *step {
        Step::Both(line, _) | Step::Left(line) => landmarks.get(line).is_some_and(|words| !words.is_empty()),
        Step::Right(_) => false,
    };
    let mut runs: Vec<std::ops::Range<usize>> = Vec::new();
    for (at, step) in steps.iter().enumerate() {
        if !is_rest(both, step) {
            continue;
        }
        match runs.last_mut() {
            Some(run) if run.end == at && !begins(step) => run.end = at + 1,
            _ => runs.push(at..at + 1),
        }
    }
    runs
}

fn rests(both: &Both<'_>, steps: &[Step]) -> Vec<Rest> {
    let rest = |run: std::ops::Range<usize>| {
        let own = steps.get(run)?;
        let line = own
            .iter()
            .filter_map(|step| if let Step::Both(line, _) | Step::Left(line) = step { Some(*line) } else { None });
        let part = own
            .iter()
            .filter_map(|step| if let Step::Both(_, part) | Step::Right(part) = step { Some(*part) } else { None });
        let (line, part): (Vec<usize>, Vec<usize>) = (line.collect(), part.collect());
        let ends = |bars: &[usize]| Some((*bars.first()?, *bars.last()?));
        let rest = Rest { line: ends(&line)?, part: ends(&part)?, counts: (line.len(), part.len()) };
        (rest.counts.0 != rest.counts.1).then_some(rest)
    };
    runs(both, steps).into_iter().filter_map(rest).collect()
}

/// Whether a rest of both sides tells of a step already.
fn told_as_rest(both: &Both<'_>, steps: &[Step]) -> Vec<bool> {
    let mut told = vec![false; steps.len()];
    for run in runs(both, steps) {
        let has_pair = steps.get(run.clone()).is_some_and(|own| {
            let line = own.iter().any(|step| !matches!(step, Step::Right(_)));
            let part = own.iter().any(|step| !matches!(step, Step::Left(_)));
            line && part
        });
        told.get_mut(run).unwrap_or_default().fill(has_pair);
    }
    told
}

/// Bars that are missing or too many, each passage as one.
fn tell_played(both: &Both<'_>, steps: &[Step], found: &mut Proof) {
    let told = told_as_rest(both, steps);
    let mut missing: Vec<(usize, usize)> = Vec::new();
    // With the bar of the line before them.
    let mut extra: Vec<(usize, usize, usize)> = Vec::new();
    let (mut line, mut last) = (0, None);
    for (step, told) in steps.iter().zip(told) {
        match *step {
            Step::Both(at, _) => (line, last) = (at, None),
            Step::Left(at) => {
                line = at;
                match missing.last_mut() {
                    Some(own) if !told && own.1 + 1 == at && last == Some(false) => own.1 = at,
                    _ if !told => missing.push((at, at)),
                    _ => {}
                }
                last = Some(false);
            }
            Step::Right(at) => {
                match extra.last_mut() {
                    Some(own) if !told && own.1 + 1 == at => own.1 = at,
                    _ if !told => extra.push((at, at, line)),
                    _ => {}
                }
                last = Some(true);
            }
        }
    }
    for (first, last) in missing {
        let spot = Spot { bars: both.line.span(first, last), part_bars: None, onset: None };
        found.differs(Class::MissingBars, spot, counted(last - first + 1, "bar"), "not there");
    }
    for (first, last, line) in extra {
        let spot = Spot { bars: both.line.span(line, line), part_bars: Some(both.part.span(first, last)), onset: None };
        let after =
            format!("{} after {}", counted(last - first + 1, "bar"), both.score.span_label(both.line.span(line, line)));
        found.differs(Class::ExtraBars, spot, "not there", after);
    }
}
