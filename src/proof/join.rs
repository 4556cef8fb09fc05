//! The same kind of fault bar after bar is one line.

use super::{Class, Difference, Proof};
use crate::place::BarSpan;
use crate::words::counted;

/// Fewer bars in a row are told one by one.
const A_RUN: usize = 3;
/// What is joined over neighbouring bars, besides passages.
const JOINED: [Class; 7] =
    [Class::Articulation, Class::Slur, Class::SungText, Class::Tie, Class::Ornament, Class::Repeat, Class::Barline];

/// Joins what polish is missing over neighbouring bars.
pub(super) fn join(found: &mut Proof) {
    each_run(found, Class::Passage, A_RUN, of_passages);
    for class in JOINED {
        // An ending is one thing however many bars it has.
        let least = if class == Class::Repeat { 2 } else { A_RUN };
        each_run(found, class, least, of_signs);
    }
}

/// Puts one difference in the place of each run of `least` or more of a class: the first, over the bars of all, as
/// `word` has it.
fn each_run(found: &mut Proof, class: Class, least: usize, word: fn(Difference, usize) -> Difference) {
    let (mut own, rest): (Vec<Difference>, Vec<Difference>) =
        std::mem::take(&mut found.differences).into_iter().partition(|difference| difference.class == class);
    own.sort_by_key(Difference::at);
    found.differences = rest;
    for run in own.chunk_by(|a, b| b.bars.first.0 <= a.bars.last.0 + 1) {
        match run {
            [first, .., last] if run.len() >= least => {
                let bars = BarSpan::new(first.bars.first, last.bars.last);
                let part_bars = first.part_bars.zip(last.part_bars).map(|(a, b)| BarSpan::new(a.first, b.last));
                found.differences.push(word(Difference { bars, part_bars, ..first.clone() }, run.len()));
            }
            few => found.differences.extend(few.iter().cloned()),
        }
    }
}

/// Passages on end that are wrong in several ways are one passage of other notes.
fn of_passages(all: Difference, _: usize) -> Difference {
    let part = format!("other notes in {}", counted(all.bars.count() as usize, "bar"));
    Difference { part, ..all }
}

fn of_signs(all: Difference, places: usize) -> Difference {
    let more = counted(places - 1, "place");
    let words = |text: &str| if text == "nothing" { text.to_owned() } else { format!("{text}; and at {more} more") };
    Difference { onset: None, score: words(&all.score), part: words(&all.part), ..all }
}
