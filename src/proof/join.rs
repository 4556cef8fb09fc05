//! The same kind of fault bar after bar is one line.

use super::{Class, Difference, Proof};
use crate::place::BarSpan;
use crate::words::counted;

/// Fewer bars in a row are told one by one.
const A_RUN: usize = 3;

/// Joins what polish is missing over neighbouring bars.
pub(super) fn join(found: &mut Proof) {
    passages(found);
    for class in
        [Class::Articulation, Class::Slur, Class::SungText, Class::Tie, Class::Ornament, Class::Repeat, Class::Barline]
    {
        let (mut own, rest): (Vec<Difference>, Vec<Difference>) =
            std::mem::take(&mut found.differences).into_iter().partition(|difference| difference.class == class);
        own.sort_by_key(Difference::at);
        found.differences = rest;
        let mut left = own.as_slice();
        while let Some(first) = left.first() {
            let follows = |pair: &&[Difference]| matches!(pair, [a, b] if b.bars.first.0 <= a.bars.last.0 + 1);
            let run = left.windows(2).take_while(follows).count() + 1;
            let (run, after) = left.split_at(run.min(left.len()));
            left = after;
            // An ending is one thing however many bars it has.
            let least = if class == Class::Repeat { 2 } else { A_RUN };
            if run.len() < least {
                found.differences.extend(run.iter().cloned());
            } else {
                found.differences.push(joined(first, run));
            }
        }
    }
}

/// Passages on end that are wrong in several ways are one passage of other notes.
fn passages(found: &mut Proof) {
    let (mut own, rest): (Vec<Difference>, Vec<Difference>) =
        std::mem::take(&mut found.differences).into_iter().partition(|difference| difference.class == Class::Passage);
    own.sort_by_key(Difference::at);
    found.differences = rest;
    let mut left = own.as_slice();
    while let Some(first) = left.first() {
        let follows = |pair: &&[Difference]| matches!(pair, [a, b] if b.bars.first.0 <= a.bars.last.0 + 1);
        let run = left.windows(2).take_while(follows).count() + 1;
        let (run, after) = left.split_at(run.min(left.len()));
        left = after;
        if run.len() < A_RUN {
            found.differences.extend(run.iter().cloned());
            continue;
        }
        let last = run.last().unwrap_or(first);
        let bars = BarSpan::new(first.bars.first, last.bars.last);
        let part_bars = first.part_bars.zip(last.part_bars).map(|(a, b)| BarSpan::new(a.first, b.last));
        let part = format!("other notes in {}", counted(bars.count() as usize, "bar"));
        found.differences.push(Difference { bars, part_bars, part, ..first.clone() });
    }
}

fn joined(first: &Difference, run: &[Difference]) -> Difference {
    let last = run.last().unwrap_or(first);
    let part_bars = first.part_bars.zip(last.part_bars).map(|(a, b)| BarSpan::new(a.first, b.last));
    let more = counted(run.len() - 1, "place");
    let words = |text: &str| if text == "nothing" { text.to_owned() } else { format!("{text}; and at {more} more") };
    Difference {
        class: first.class,
        bars: BarSpan::new(first.bars.first, last.bars.last),
        part_bars,
        onset: None,
        score: words(&first.score),
        part: words(&first.part),
    }
}
