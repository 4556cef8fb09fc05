//! Rehearsal marks as a list.

use crate::place::{BarIdx, BarSpan};
use crate::rules::Case;
use crate::score::{Score, SystemMarkKind};

/// A rehearsal mark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Mark<'a> {
    pub(super) bar: BarIdx,
    pub(super) text: &'a str,
}

/// The rehearsal marks of some bars, in order.
pub(super) fn marks_in(score: &Score, bars: BarSpan) -> Vec<Mark<'_>> {
    let within = score.marks.iter().filter(|mark| bars.contains(mark.bar));
    let marks = within.filter_map(|mark| match &mark.kind {
        SystemMarkKind::Rehearsal(text) => Some(Mark { bar: mark.bar, text: text.trim() }),
        _ => None,
    });
    marks.collect()
}

impl<'a> Case<'a> {
    pub(super) fn marks_by_movement(&self) -> Vec<(BarSpan, Vec<Mark<'a>>)> {
        self.score.movements.iter().map(|movement| (movement.bars, marks_in(self.score, movement.bars))).collect()
    }
}
