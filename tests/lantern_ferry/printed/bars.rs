//! Where the onsets of a bar stand between its barlines.

use rastrum::layout::{PrintedStaff, System};
use rastrum::place::{BarIdx, BarSpan, StaffId};
use rastrum::score::{Cell, Event, EventKind, Grace, Score};
use rastrum::units::{Fraction, Mm};

/// One printed bar.
#[derive(Clone, Debug)]
pub struct Bar {
    pub span: BarSpan,
    pub left: Mm,
    pub right: Mm,
    /// Where a key and a metre are printed.
    pub key_at: Mm,
    pub metre_at: Option<Mm>,
    /// Where notes may begin.
    pub begin: Mm,
    /// Onset in quarters and place, in order; the bar's end is the last.
    columns: Vec<(f64, Mm)>,
}

/// In staff spaces: what stands at a system's start, and the room around notes.
const CLEF: f64 = 3.6;
const KEY_SIGN: f64 = 1.0;
const METRE: f64 = 2.4;
const AFTER_SIGNS: f64 = 0.9;
const AFTER_BARLINE: f64 = 1.2;
const ACCIDENTAL: f64 = 1.2;
const AFTER_NOTES: f64 = 0.5;
const GRACE: f64 = 1.5;

pub fn of(score: &Score, system: &System, space: Mm) -> Vec<Bar> {
    let staves: Vec<StaffId> = system.staves.iter().filter_map(|PrintedStaff { staff, .. }| *staff).collect();
    let mut bars = Vec::new();
    for printed in &system.bars {
        let Some(span) = printed.bars else { continue };
        let cells: Vec<&Cell> = staves.iter().filter_map(|staff| score.cell(span.first, *staff)).collect();
        let is_first = bars.is_empty();
        let key_at = printed.left + space * if is_first { CLEF } else { 0.7 };
        let widest = cells.iter().map(|cell| cell.key.fifths.unsigned_abs()).max().unwrap_or(0);
        let after_key = if is_first { key_at + space * (f64::from(widest) * KEY_SIGN + 0.4) } else { key_at };
        let has_metre = score.bar(span.first).is_some_and(|bar| bar.metre_changes);
        let after_metre = if has_metre { after_key + space * METRE } else { after_key };
        let has_sign = cells.iter().flat_map(|cell| &cell.events).any(begins_with_accidental);
        let before = if is_first || has_metre { AFTER_SIGNS } else { AFTER_BARLINE };
        let begin = after_metre + space * (before + if has_sign && is_first { ACCIDENTAL } else { 0.0 });
        let columns = columns(score, span, &cells, (begin, printed.right), space);
        let metre_at = has_metre.then_some(after_key);
        bars.push(Bar { span, left: printed.left, right: printed.right, key_at, metre_at, begin, columns });
    }
    bars
}

fn begins_with_accidental(event: &Event) -> bool {
    let EventKind::Chord(notes) = &event.kind else { return false };
    event.onset.is_zero() && notes.iter().any(|note| note.accidental)
}

fn columns(score: &Score, span: BarSpan, cells: &[&Cell], (begin, end): (Mm, Mm), space: Mm) -> Vec<(f64, Mm)> {
    let length = score.bar(span.first).map_or(4.0, |bar| bar.length.to_f64());
    let notes = || {
        let all = cells.iter().flat_map(|cell| &cell.events);
        all.filter(|event| !matches!(event.kind, EventKind::Rest { whole_bar: true }))
    };
    let mut onsets: Vec<f64> = notes().map(|event| event.onset.to_f64()).chain([0.0]).collect();
    onsets.sort_by(f64::total_cmp);
    onsets.dedup();
    let graces_at = |onset: f64| {
        let here = |event: &&Event| event.grace != Grace::No && event.onset.to_f64() == onset;
        if notes().any(|event| here(&event)) { GRACE } else { 0.0 }
    };
    let mut at = graces_at(0.0);
    let mut places = Vec::new();
    for (nth, onset) in onsets.iter().enumerate() {
        places.push((*onset, at));
        let next = onsets.get(nth + 1).copied();
        let room = (3.5 * (next.unwrap_or(length) - onset).max(0.0).sqrt()).max(1.8);
        at += room + next.map_or(0.0, graces_at);
    }
    places.push((length, at));
    let room = end - begin - space * AFTER_NOTES;
    places.into_iter().map(|(onset, place)| (onset, begin + room * (place / at.max(1.0)))).collect()
}

impl Bar {
    /// Left edge of a head that begins there.
    pub fn x(&self, onset: Fraction) -> Mm {
        let onset = onset.to_f64();
        let after = self.columns.iter().position(|(own, _)| *own >= onset).unwrap_or(self.columns.len() - 1);
        let (next, right) = self.columns[after];
        let Some((last, left)) = after.checked_sub(1).map(|before| self.columns[before]) else { return right };
        left + (right - left) * ((onset - last) / (next - last)).min(1.0)
    }

    pub fn holds(&self, bar: BarIdx) -> bool {
        self.span.contains(bar)
    }
}
