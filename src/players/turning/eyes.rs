//! What a player still has to read, watch or wait for while the hands are free.

use super::LastRead;
use crate::place::BarIdx;
use crate::players::clock::{Clock, Moment};
use crate::score::{EventKind, Score, SystemMarkKind};

/// In order of time.
pub(super) struct Reads {
    all: Vec<(Moment, LastRead)>,
    /// Bars with a pause sign or a general pause.
    pauses: Vec<BarIdx>,
}

impl Reads {
    pub fn of(music: &Score, clock: &Clock) -> Reads {
        let mut reads = Reads { all: Vec::new(), pauses: Vec::new() };
        let staves = music.staves.len().max(1);
        for (at, cell) in music.cells.iter().enumerate() {
            let bar = BarIdx((at / staves) as u32);
            for event in &cell.events {
                let end = clock.at(bar, event.onset.checked_add(event.length).unwrap_or(event.onset));
                if event.cue && matches!(event.kind, EventKind::Chord(_)) {
                    reads.all.push((end, LastRead::Cue));
                }
                if event.fermata {
                    reads.all.push((end, LastRead::Fermata));
                    reads.pauses.push(bar);
                }
            }
        }
        for (at, bar) in music.bars.iter().enumerate() {
            let own = BarIdx(at as u32);
            if bar.metre_changes {
                reads.all.push((clock.at(own, crate::units::Fraction::ZERO), LastRead::Metre));
            }
            if bar.right.fermata {
                reads.all.push((clock.end_of(own), LastRead::Fermata));
                reads.pauses.push(own);
            }
        }
        for mark in &music.marks {
            let what = match &mark.kind {
                SystemMarkKind::TempoMoves(_) => LastRead::TempoMoves,
                SystemMarkKind::GeneralPause => LastRead::GeneralPause,
                SystemMarkKind::Tempo { .. } if !mark.over.is_empty() => LastRead::Tempo,
                _ => continue,
            };
            if what == LastRead::GeneralPause {
                reads.pauses.push(mark.bar);
            }
            reads.all.push((clock.at(mark.bar, mark.onset), what));
        }
        reads.all.sort_by(|a, b| a.0.at.0.total_cmp(&b.0.at.0).then(a.0.bar.cmp(&b.0.bar)));
        reads.pauses.sort_unstable();
        reads
    }

    /// The last thing to read after the hands are free and before the barline; what stands in the bar overleaf is
    /// read there.
    pub fn last_between(&self, free_from: Option<Moment>, barline: Moment) -> Option<(Moment, LastRead)> {
        let end = self.all.partition_point(|(moment, _)| {
            moment.at < barline.at || moment.at == barline.at && moment.bar <= barline.bar
        });
        let last = end.checked_sub(1).and_then(|last| self.all.get(last))?;
        free_from.is_none_or(|from| from.at < last.0.at).then_some(*last)
    }

    /// A pause stands in the bar before the barline or after it.
    pub fn pause_at(&self, bar: BarIdx) -> bool {
        let next = BarIdx(bar.0 + 1);
        self.pauses.binary_search(&bar).is_ok() || self.pauses.binary_search(&next).is_ok()
    }
}

/// Whether the next movement follows at once.
pub(super) fn goes_on(music: &Score, last: BarIdx) -> bool {
    const AT_ONCE: [&str; 7] =
        ["attac", "segue", "enchain", "ohne unterbrechung", "sogleich weiter", "sans interruption", "without a break"];
    music.marks.iter().filter(|mark| mark.bar == last).any(|mark| match &mark.kind {
        SystemMarkKind::Jump(text) => {
            let folded = crate::players::words::folded(text);
            AT_ONCE.iter().any(|word| folded.contains(word))
        }
        _ => false,
    })
}
