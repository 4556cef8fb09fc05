//! The tempo map: seconds of each bar from metronome marks and playback tempos.

use crate::score::{Bar, Movement, SystemMark, SystemMarkKind};
use crate::units::{Fraction, Seconds};

/// Taken where a movement gives no tempo at all, in quarters a minute.
const ASSUMED: f64 = 100.0;

/// Fills in the seconds of every bar; tells whether any rest on an assumed tempo. `marks` are in order.
///
/// Fermatas and gradual changes (rit., accel.) are not counted. What stands before a movement's first tempo is
/// taken at that tempo.
pub(super) fn fill(bars: &mut [Bar], movements: &[Movement], marks: &[SystemMark]) -> bool {
    let mut tempos =
        marks.iter().filter_map(|mark| tempo(mark).map(|tempo| (mark.bar.at(), mark.onset, tempo))).peekable();
    let mut any_assumed = false;
    for movement in movements {
        let (first, last) = (movement.bars.first.at(), movement.bars.last.at());
        let given = tempos.peek().filter(|(bar, ..)| *bar <= last).map(|(.., tempo)| *tempo);
        let mut now = given.unwrap_or(ASSUMED);
        for (at, bar) in bars.iter_mut().enumerate().take(last + 1).skip(first) {
            let (mut from, mut minutes) = (Fraction::ZERO, 0.0);
            while let Some((_, onset, tempo)) = tempos.next_if(|(bar, ..)| *bar == at) {
                let onset = onset.min(bar.length).max(from);
                minutes += (onset.to_f64() - from.to_f64()) / now;
                (from, now) = (onset, tempo);
            }
            minutes += (bar.length.to_f64() - from.to_f64()) / now;
            if bar.metre.is_some() {
                bar.seconds = Some(Seconds(minutes * 60.0));
                any_assumed |= given.is_none();
            }
        }
    }
    any_assumed
}

fn tempo(mark: &SystemMark) -> Option<f64> {
    match &mark.kind {
        SystemMarkKind::Tempo { quarters_per_minute, .. } => *quarters_per_minute,
        _ => None,
    }
}
