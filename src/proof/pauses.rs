//! Fermatas: one over any staff holds up everybody.

use super::side::{Both, Pairs, Side};
use super::words::beat;
use super::{Class, Proof};
use crate::score::Event;
use crate::units::Fraction;
use crate::words::all_listed;

pub(super) fn compare(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    for pair in &pairs.both {
        let own = of_side(&both.line, pair.0);
        let part = of_side(&both.part, pair.1);
        let anywhere = anywhere(both, pair.0);
        let bar = both.line.bar(pair.0);
        let words = |onsets: &[Fraction]| match onsets {
            [] => "no fermata".to_owned(),
            _ => {
                format!("fermata on {}", all_listed(&onsets.iter().map(|onset| beat(*onset, bar)).collect::<Vec<_>>()))
            }
        };
        if own.is_empty() {
            // Another player's: the part needs one somewhere in the bar, over a note or a rest.
            if let (Some(onset), [], false) = (anywhere, &part[..], barline(&both.part, pair.1)) {
                let score = format!("fermata over another staff, {}", beat(onset, bar));
                found.differs(Class::Pause, both.pair(*pair, Some(onset)), score, "no fermata");
            } else if anywhere.is_none() && !part.is_empty() && !barline(&both.line, pair.0) {
                let onset = part.first().copied();
                found.differs(Class::Pause, both.pair(*pair, onset), "no fermata", words(&part));
            }
        } else if own != part && !(part.is_empty() && barline(&both.part, pair.1)) {
            let onset = own.iter().chain(&part).min().copied();
            found.differs(Class::Pause, both.pair(*pair, onset), words(&own), words(&part));
        }
        let (line, part) = (barline(&both.line, pair.0), barline(&both.part, pair.1));
        if line && !part && of_side(&both.part, pair.1).is_empty() {
            found.differs(Class::Pause, both.pair(*pair, None), "fermata over the barline", "no fermata");
        } else if part && !line && own.is_empty() && anywhere.is_none() {
            found.differs(Class::Pause, both.pair(*pair, None), "no fermata", "fermata over the barline");
        }
    }
}

/// Where the player's own notes and rests have a fermata, each place once.
fn of_side(side: &Side<'_>, at: usize) -> Vec<Fraction> {
    let events = side.cells(at).iter().flat_map(|cell| &cell.events);
    places(events.filter(|event| !event.cue && event.fermata))
}

/// The last fermata of the bar over any staff of the score.
fn anywhere(both: &Both<'_>, line: usize) -> Option<Fraction> {
    let (bar, staves) = (both.line.idx(line).at(), both.score.staves.len());
    let cells = both.score.cells.get(bar * staves..(bar + 1) * staves).unwrap_or_default();
    places(cells.iter().flat_map(|cell| &cell.events).filter(|event| event.fermata)).last().copied()
}

fn places<'a>(events: impl Iterator<Item = &'a Event>) -> Vec<Fraction> {
    let mut places: Vec<Fraction> = events.map(|event| event.onset).collect();
    places.sort_unstable();
    places.dedup();
    places
}

fn barline(side: &Side<'_>, at: usize) -> bool {
    side.bar(at).is_some_and(|bar| bar.left.fermata || bar.right.fermata)
}
