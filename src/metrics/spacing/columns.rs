//! The columns of a bar: springs from note values, rods from what stands at the notes.

use super::rules::QUARTER;
use super::{Column, SpacingRules, sketch};
use crate::place::BarIdx;
use crate::score::{Cell, Event, EventKind, Grace, Score};
use crate::units::Spaces;

/// Reads bar after bar with the same working room.
pub(super) struct Reader<'a> {
    score: &'a Score,
    rules: &'a SpacingRules,
    moments: Vec<Moment>,
    sounding: Vec<(f64, f64)>,
}

/// One moment of a bar at which something begins.
#[derive(Clone, Copy, Default)]
struct Moment {
    /// In quarters from the bar's start. Equal fractions in lowest terms are equal numbers.
    onset: f64,
    accidental: bool,
    dot: bool,
    graces: u8,
}

impl<'a> Reader<'a> {
    pub fn new(score: &'a Score, rules: &'a SpacingRules) -> Reader<'a> {
        Reader { score, rules, moments: Vec::new(), sounding: Vec::new() }
    }

    /// Adds the columns of a bar; gives the room that no force changes.
    pub fn read(&mut self, bar: BarIdx, columns: &mut Vec<Column>) -> Spaces {
        let Some(own) = self.score.bar(bar) else { return Spaces::ZERO };
        self.gather(bar);
        let length = own.length.to_f64();
        if let Some((sketched, room)) = sketch::column(self.cells(bar), own.length) {
            columns.push(sketched);
            return room;
        }
        if self.moments.is_empty() {
            let rest = self.rules.empty_bar;
            columns.push(Column { spring: rest, rod: rest });
            return Spaces::ZERO;
        }
        let mut room = Spaces::ZERO;
        for (at, moment) in self.moments.iter().enumerate() {
            let next = self.moments.get(at + 1).map_or(length, |next| next.onset);
            let gap = (next - moment.onset).max(0.0);
            let shortest = self.shortest(moment.onset, next, gap);
            columns.push(Column { spring: self.spring(gap, shortest), rod: self.rules.head });
            room += self.room(moment);
        }
        room
    }

    fn room(&self, moment: &Moment) -> Spaces {
        let mut room = self.rules.grace * f64::from(moment.graces);
        if moment.accidental {
            room += self.rules.accidental;
        }
        if moment.dot {
            room += self.rules.dot;
        }
        room
    }

    /// Equal notes stay equal, whatever else moves beside them: a gap is its share of the shortest note that sounds
    /// through it (principle: Gourlay 1987, from memory).
    fn spring(&self, gap: f64, shortest: f64) -> Spaces {
        if shortest <= 0.0 {
            return Spaces::ZERO;
        }
        Spaces(QUARTER * libm::pow(shortest, self.rules.power) * gap / shortest)
    }

    fn shortest(&self, from: f64, to: f64, gap: f64) -> f64 {
        let over = self.sounding.iter().filter(|(start, length)| *start < to && start + length > from);
        over.map(|(_, length)| *length).reduce(f64::min).unwrap_or(gap)
    }

    fn cells(&self, bar: BarIdx) -> &'a [Cell] {
        let count = self.score.staves.len();
        self.score.cells.get(bar.at() * count..(bar.at() + 1) * count).unwrap_or_default()
    }

    fn gather(&mut self, bar: BarIdx) {
        self.moments.clear();
        self.sounding.clear();
        let cells = self.cells(bar);
        let mut graces = 0;
        for event in cells.iter().flat_map(|cell| &cell.events).filter(|event| event.printed) {
            if event.grace != Grace::No {
                graces += 1;
                continue;
            }
            if let Some(moment) = moment(event, std::mem::take(&mut graces)) {
                self.moments.push(moment);
                self.sounding.push((moment.onset, event.length.to_f64()));
            }
        }
        self.moments.sort_by(|a, b| a.onset.total_cmp(&b.onset));
        self.moments.dedup_by(|later, kept| {
            let same = later.onset == kept.onset;
            if same {
                kept.accidental |= later.accidental;
                kept.dot |= later.dot;
                kept.graces = kept.graces.max(later.graces);
            }
            same
        });
        self.sounding.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        self.sounding.dedup();
    }
}

fn moment(event: &Event, graces: u8) -> Option<Moment> {
    let accidental = match &event.kind {
        EventKind::Rest { whole_bar: true } => return None,
        EventKind::Rest { .. } => false,
        EventKind::Chord(notes) => notes.iter().any(|note| note.accidental),
    };
    Some(Moment { onset: event.onset.to_f64(), accidental, dot: event.value.dots > 0, graces })
}
