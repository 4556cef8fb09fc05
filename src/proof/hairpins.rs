//! Hairpins: where they begin, which way they open, and where they end, give or take a note.

use super::side::{Both, Pairs, Side, Spot};
use super::texts::{near, tolerance};
use super::words::beat;
use super::{Class, Proof};
use crate::score::MarkKind;
use crate::units::Fraction;

/// A place in one side.
type Place = (usize, Fraction);

#[derive(Clone, Copy, Debug, PartialEq)]
struct Hairpin {
    from: Place,
    opens: bool,
    /// `None` where it never ends.
    to: Option<Place>,
}

impl Hairpin {
    fn word(&self) -> &'static str {
        if self.opens { "crescendo" } else { "diminuendo" }
    }
}

pub(super) fn compare(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    let line: Vec<Hairpin> = hairpins(&both.line)
        .into_iter()
        .filter(|own| both.open(own.from.0).is_none() && pairs.to_part.get(own.from.0).copied().flatten().is_some())
        .collect();
    let in_line = |(bar, onset): Place| Some((pairs.to_line.get(bar).copied().flatten()?, onset));
    // In bars of the line, with the place in the part beside it.
    let mut part: Vec<(Hairpin, Hairpin)> = hairpins(&both.part)
        .into_iter()
        .filter_map(|own| {
            let from = in_line(own.from).filter(|from| both.open(from.0).is_none())?;
            Some((Hairpin { from, to: own.to.and_then(in_line), ..own }, own))
        })
        .collect();
    let mut lost: Vec<Hairpin> = Vec::new();
    for own in line {
        let close = |other: &Hairpin| {
            other.from.0 == own.from.0 && near(other.from.1, own.from.1, tolerance(&both.line, own.from.0))
        };
        let same = part.iter().position(|(other, _)| other.opens == own.opens && close(other));
        match same.map(|at| part.remove(at)) {
            None => lost.push(own),
            Some((other, there)) => ends(both, &own, &other, &there, found),
        }
    }
    for own in lost {
        // In the same bar, but elsewhere or the other way round.
        let at = part.iter().position(|(other, _)| other.from.0 == own.from.0);
        let other = at.map(|at| part.remove(at));
        let there = other.map(|(_, there)| words(&both.part, &there)).unwrap_or_else(|| "nothing".to_owned());
        let part_bar = pairs.to_part.get(own.from.0).copied().flatten();
        let spot = Spot {
            bars: both.line.span(own.from.0, own.from.0),
            part_bars: part_bar.map(|bar| both.part.span(bar, bar)),
            onset: Some(own.from.1),
        };
        found.differs(Class::Hairpin, spot, words(&both.line, &own), there);
    }
    for (own, there) in part {
        let spot = both.pair((own.from.0, there.from.0), Some(own.from.1));
        found.differs(Class::Hairpin, spot, "nothing", words(&both.part, &there));
    }
}

/// Ends so few notes apart are the same to the player. Common practice.
const A_NOTE: usize = 1;

fn ends(both: &Both<'_>, own: &Hairpin, other: &Hairpin, there: &Hairpin, found: &mut Proof) {
    let (Some(one), Some(two)) = (own.to, other.to) else { return };
    if one == two || notes_between(&both.line, one.min(two), one.max(two)) <= A_NOTE {
        return;
    }
    let words = |side: &Side<'_>, (bar, onset): Place| {
        format!("{} ends in {}, {}", own.word(), side.music.span_label(side.span(bar, bar)), beat(onset, side.bar(bar)))
    };
    let spot = both.pair((own.from.0, there.from.0), Some(own.from.1));
    let told = there.to.map_or_else(String::new, |to| words(&both.part, to));
    found.differs(Class::Hairpin, spot, words(&both.line, one), told);
}

/// Notes of the line that begin after one place and not after the other.
fn notes_between(side: &Side<'_>, from: Place, to: Place) -> usize {
    let bars = (from.0..=to.0).filter_map(|bar| Some((bar, side.heard.get(bar)?)));
    let mut onsets: Vec<Place> =
        bars.flat_map(|(bar, heard)| heard.notes.iter().map(move |note| (bar, note.onset))).collect();
    onsets.dedup();
    onsets.into_iter().filter(|place| from < *place && *place < to).count() + usize::from(from.0 + 1 < to.0)
}

fn words(side: &Side<'_>, own: &Hairpin) -> String {
    let end = match own.to {
        Some((bar, onset)) if bar == own.from.0 => format!(" to {}", beat(onset, side.bar(bar))),
        Some((bar, _)) => format!(" to {}", side.music.span_label(side.span(bar, bar))),
        None => " without end".to_owned(),
    };
    format!("{} from {}{end}", own.word(), beat(own.from.1, side.bar(own.from.0)))
}

/// All hairpins of a side, by where they begin; one that stands over two staves alike is one.
fn hairpins(side: &Side<'_>) -> Vec<Hairpin> {
    let mut found: Vec<Hairpin> = Vec::new();
    let mut open: Vec<(usize, u8, usize)> = Vec::new();
    for bar in 0..side.count() {
        for (staff, cell) in side.cells(bar).iter().enumerate() {
            for mark in &cell.marks {
                match mark.kind {
                    MarkKind::HairpinStart { number, opens } => {
                        open.retain(|(of, own, _)| (*of, *own) != (staff, number));
                        open.push((staff, number, found.len()));
                        found.push(Hairpin { from: (bar, mark.onset), opens, to: None });
                    }
                    MarkKind::HairpinStop { number } => {
                        let at = open.iter().position(|(of, own, _)| (*of, *own) == (staff, number));
                        if let Some((.., own)) = at.map(|at| open.remove(at))
                            && let Some(own) = found.get_mut(own)
                        {
                            own.to = Some((bar, mark.onset));
                        }
                    }
                    _ => {}
                }
            }
        }
    }
    found.sort_by_key(|own| (own.from, own.opens));
    found.dedup_by(|next, kept| (next.from, next.opens) == (kept.from, kept.opens));
    found
}
