//! How alike two bars of the full score are, over all parts that both drafts have.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::ops::Range;

use super::lines::Line;
use super::prints::{Of, Print, Prints};
use crate::align::Likeness;
use crate::place::BarIdx;
use crate::score::{EventKind, Score, SystemMarkKind};

/// Both drafts, bar by bar.
pub(super) struct Bars<'a> {
    old: Side<'a>,
    new: Side<'a>,
}

/// One draft: prints of the parts that both have, bar by bar.
struct Side<'a> {
    score: &'a Score,
    parts: Vec<Range<usize>>,
    prints: Vec<Print>,
    /// Rehearsal marks of each bar.
    marks: Vec<u64>,
}

/// What a bar of a part is worth whose rhythm alone is the same.
const RHYTHM: f64 = 0.6;
/// The most that bars with some notes in common come to.
const SOME: f64 = 0.8;
/// A rehearsal mark counts like so many parts.
const MARK: f64 = 1.0;

impl<'a> Bars<'a> {
    pub fn of(old: (&'a Score, &Prints), new: (&'a Score, &Prints), parts: &[(&Line, &Line)]) -> Bars<'a> {
        // Staves are told apart where both drafts have as many.
        let apart: Vec<bool> = parts.iter().map(|(one, other)| one.staves.len() == other.staves.len()).collect();
        let ours = parts.iter().map(|(line, _)| line.staves.clone()).collect();
        let theirs = parts.iter().map(|(_, line)| line.staves.clone()).collect();
        Bars { old: Side::of(old.0, old.1, ours, &apart), new: Side::of(new.0, new.1, theirs, &apart) }
    }

    /// A number for each bar; those of equal bars are equal.
    pub fn keys(&self) -> (Vec<u64>, Vec<u64>) {
        (self.old.keys(), self.new.keys())
    }
}

impl<'a> Side<'a> {
    fn of(score: &'a Score, prints: &Prints, parts: Vec<Range<usize>>, apart: &[bool]) -> Side<'a> {
        let mut own = Vec::with_capacity(score.bars.len() * parts.len());
        for bar in 0..score.bars.len() {
            own.extend(parts.iter().zip(apart).map(|(staves, apart)| Print::of_part(prints.at(bar, staves), *apart)));
        }
        let mut marks = vec![0_u64; score.bars.len()];
        for mark in &score.marks {
            if let (SystemMarkKind::Rehearsal(text), Some(sum)) = (&mark.kind, marks.get_mut(mark.bar.at())) {
                *sum = sum.wrapping_add(hash(text.trim()));
            }
        }
        Side { score, parts, prints: own, marks }
    }

    fn at(&self, bar: usize) -> &[Print] {
        let parts = self.parts.len();
        self.prints.get(bar * parts..(bar + 1) * parts).unwrap_or_default()
    }

    fn keys(&self) -> Vec<u64> {
        let key = |bar: usize| {
            let music: Vec<[u64; 5]> = self.at(bar).iter().map(played).collect();
            hash((music, self.marks.get(bar), self.score.bars.get(bar).map(|bar| bar.length)))
        };
        (0..self.score.bars.len()).map(key).collect()
    }

    /// Onsets and pitches of one part's bar.
    fn heads(&self, bar: usize, part: usize) -> Vec<(crate::units::Fraction, i32)> {
        let mut heads = Vec::new();
        for staff in self.parts.get(part).cloned().unwrap_or_default() {
            let staff = crate::place::StaffId(u16::try_from(staff).unwrap_or(u16::MAX));
            let Some(cell) = self.score.cell(BarIdx(u32::try_from(bar).unwrap_or(u32::MAX)), staff) else { continue };
            for event in cell.events.iter().filter(|event| event.printed && !event.cue) {
                let EventKind::Chord(notes) = &event.kind else { continue };
                let sounding = |note: &crate::score::Note| cell.transposition.sounding(note.pitch).quarter_tones();
                heads.extend(notes.iter().map(|note| (event.onset, sounding(note))));
            }
        }
        heads
    }
}

/// What makes a bar another one, for the anchors: not how it is spelt, nor its clef or key.
fn played(print: &Print) -> [u64; 5] {
    [Of::Rhythm, Of::Pitches, Of::Dynamics, Of::Words, Of::Signs].map(|of| print.get(of))
}

fn hash(what: impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    what.hash(&mut hasher);
    hasher.finish()
}

impl Likeness for Bars<'_> {
    fn likeness(&mut self, left: usize, right: usize) -> f64 {
        let (mut all, mut same) = (0.0, 0.0);
        for (part, (one, other)) in self.old.at(left).iter().zip(self.new.at(right)).enumerate() {
            if !one.sounds() && !other.sounds() {
                continue;
            }
            all += 1.0;
            let has = |of: Of| one.get(of) == other.get(of);
            same += match (has(Of::Rhythm), has(Of::Pitches)) {
                (true, true) => 1.0,
                _ if !(one.sounds() && other.sounds()) => 0.0,
                (rhythm, _) => {
                    let least = if rhythm { RHYTHM } else { 0.0 };
                    let some = common(&self.old.heads(left, part), &self.new.heads(right, part)) * SOME;
                    some.max(least)
                }
            };
        }
        let marks = (self.old.marks.get(left), self.new.marks.get(right));
        if marks.0 != Some(&0) || marks.1 != Some(&0) {
            all += MARK;
            same += if marks.0 == marks.1 { MARK } else { 0.0 };
        }
        if all == 0.0 { 1.0 } else { same / all }
    }

    fn sounds(&self, left: usize) -> bool {
        self.old.at(left).iter().any(Print::sounds) || self.old.marks.get(left) != Some(&0)
    }
}

/// Share of the notes of both that stand in both, from 0 to 1.
fn common<T: PartialEq>(one: &[T], other: &[T]) -> f64 {
    let mut left: Vec<Option<&T>> = other.iter().map(Some).collect();
    let mut both = 0_u32;
    for own in one {
        if let Some(slot) = left.iter_mut().find(|slot| **slot == Some(own)) {
            *slot = None;
            both += 1;
        }
    }
    let all = one.len() + other.len();
    if all == 0 { 0.0 } else { 2.0 * f64::from(both) / all as f64 }
}
