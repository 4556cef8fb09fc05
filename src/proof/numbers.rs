//! Printed bar numbers: a player who is told "bar 45" must find it.

use super::side::{Both, Pairs, Side, Spot};
use super::{Class, Proof};

/// A run of bars whose numbers are off by the same.
struct Run {
    first: (usize, usize),
    last: (usize, usize),
    off: i64,
}

pub(super) fn compare(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    let mut runs: Vec<Run> = Vec::new();
    let mut before = 0;
    for pair in &pairs.both {
        let Some((line, part)) = number(&both.line, pair.0).zip(number(&both.part, pair.1)) else { continue };
        let off = part - line;
        match runs.last_mut() {
            Some(run) if before == off && off != 0 => run.last = *pair,
            _ if off != 0 => runs.push(Run { first: *pair, last: *pair, off }),
            _ => {}
        }
        before = off;
    }
    for run in runs {
        // Bars that are missing before have been told; their numbers follow.
        let moved = run.first.1 as i64 - run.first.0 as i64;
        if run.off == moved {
            continue;
        }
        let label = |side: &Side<'_>, at: usize| side.bar(at).map_or("", |bar| bar.label.as_str()).to_owned();
        let words = |side: &Side<'_>, first: usize, last: usize| match first == last {
            true => format!("number {}", label(side, first)),
            false => format!("numbers {} to {}", label(side, first), label(side, last)),
        };
        let spot = Spot {
            bars: both.line.span(run.first.0, run.last.0),
            part_bars: Some(both.part.span(run.first.1, run.last.1)),
            onset: None,
        };
        let (line, part) = (words(&both.line, run.first.0, run.last.0), words(&both.part, run.first.1, run.last.1));
        found.differs(Class::BarNumbers, spot, line, part);
    }
}

/// Of bars that are numbered with a plain number.
fn number(side: &Side<'_>, at: usize) -> Option<i64> {
    let bar = side.bar(at)?;
    if bar.uncounted { None } else { bar.label.trim().parse().ok() }
}
