//! The notes of two bars, each with the one that stands for it.

use crate::proof::heard::HeardNote;

/// What came of it.
#[derive(Clone, Debug, Default)]
pub(super) struct Matched {
    pub same: Vec<(HeardNote, HeardNote)>,
    pub pitches: Vec<(HeardNote, HeardNote)>,
    pub lengths: Vec<(HeardNote, HeardNote)>,
    pub places: Vec<(HeardNote, HeardNote)>,
    pub missing: Vec<HeardNote>,
    pub extra: Vec<HeardNote>,
    /// Notes of the line.
    pub line: usize,
    pub first_of_line: Option<HeardNote>,
    pub first_of_part: Option<HeardNote>,
}

impl Matched {
    pub fn is_same(&self) -> bool {
        self.faults() == 0
    }

    pub fn faults(&self) -> usize {
        self.pitches.len() + self.lengths.len() + self.places.len() + self.missing.len() + self.extra.len()
    }
}

/// Pairs notes, the surest first.
pub(super) fn matched(line: &[HeardNote], part: &[HeardNote]) -> Matched {
    let mut own = Matched {
        line: line.len(),
        first_of_line: line.first().copied(),
        first_of_part: part.first().copied(),
        ..Matched::default()
    };
    let (mut left, mut right) = (line.to_vec(), part.to_vec());
    own.same = take(&mut left, &mut right, |a, b| (a.key() == b.key()).then_some(0));
    let place = |note: &HeardNote| (note.onset, note.grace);
    own.lengths = take(&mut left, &mut right, |a, b| (place(a) == place(b) && a.height == b.height).then_some(0));
    let apart = |a: &HeardNote, b: &HeardNote| (a.height - b.height).abs();
    own.pitches = take(&mut left, &mut right, |a, b| {
        (place(a) == place(b)).then(|| apart(a, b) + if a.length == b.length { 0 } else { 1000 })
    });
    own.places = take(&mut left, &mut right, |a, b| {
        let same = a.height == b.height && (a.grace == 0) == (b.grace == 0) && a.length == b.length;
        same.then_some(0)
    });
    (own.missing, own.extra) = (left, right);
    own
}

/// Takes out the pairs that `cost` allows, each note of the line with its cheapest.
fn take(
    left: &mut Vec<HeardNote>,
    right: &mut Vec<HeardNote>,
    cost: impl Fn(&HeardNote, &HeardNote) -> Option<i32>,
) -> Vec<(HeardNote, HeardNote)> {
    let mut pairs = Vec::new();
    left.retain(|note| {
        let costs = right.iter().enumerate().filter_map(|(at, other)| Some((cost(note, other)?, at)));
        let Some((_, at)) = costs.min() else { return true };
        pairs.push((*note, right.remove(at)));
        false
    });
    pairs
}
