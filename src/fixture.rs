//! Small scores and records made by hand for tests.

use proptest::prelude::*;

use crate::layout::{BarRecord, Record, StaffRecord, SystemRecord};
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::score::{Bar, Cell, Event, EventKind, Family, MarkKind, Metre, Movement, Note, NoteValue, Part};
use crate::score::{Pitch, Score, Staff, StaffMark};
use crate::units::{Fraction, Mm, Seconds};

/// One part of a made-up score: name, family, staves.
pub(crate) type PartPlan<'a> = (&'a str, Family, u16);

/// Four strings of one staff each.
pub(crate) const QUARTET: [PartPlan; 4] = [
    ("Violin I", Family::Strings, 1),
    ("Violin II", Family::Strings, 1),
    ("Viola", Family::Strings, 1),
    ("Violoncello", Family::Strings, 1),
];

/// Bars of 4/4 that last two seconds each, all of them rests, in one movement.
pub(crate) fn score(parts: &[PartPlan], bars: u32) -> Score {
    let mut score = Score::default();
    for (at, (name, family, staves)) in parts.iter().enumerate() {
        let id = PartId(at as u16);
        score.parts.push(Part { name: (*name).to_owned(), family: *family, ..Part::default() });
        score.staves.extend((1..=*staves).map(|number| Staff { part: id, number }));
    }
    add_movement(&mut score, bars);
    score
}

/// Another movement, from an input of its own.
pub(crate) fn add_movement(score: &mut Score, bars: u32) {
    let first = score.bars.len() as u32;
    let input = score.movements.len() as u16;
    let metre = Metre { text: "4/4".to_owned(), length: Fraction::whole(4), beat_value: 4 };
    for nth in 0..bars {
        score.bars.push(Bar {
            label: (nth + 1).to_string(),
            length: Fraction::whole(4),
            metre: Some(metre.clone()),
            metre_changes: nth == 0,
            seconds: Some(Seconds(2.0)),
            times_played: 1,
            ..Bar::default()
        });
        score.cells.extend(score.staves.iter().map(|_| Cell { events: vec![rest()], ..Cell::default() }));
    }
    let bars = BarSpan::new(BarIdx(first), BarIdx(first + bars - 1));
    score.movements.push(Movement { title: None, bars, input, parts: Vec::new() });
}

fn event(onset: Fraction, length: Fraction, kind: EventKind) -> Event {
    Event::new(onset, length, NoteValue { halvings: Some(2), dots: 0 }, kind)
}

/// A bar's rest.
pub(crate) fn rest() -> Event {
    event(Fraction::ZERO, Fraction::whole(4), EventKind::Rest { whole_bar: true })
}

/// A quarter note on a beat counted from 0; `name` is a letter and an octave, "G4".
pub(crate) fn quarter(name: &str, beat: i64) -> Event {
    let mut letters = name.chars();
    let step = letters.next().and_then(|letter| "CDEFGAB".find(letter)).unwrap_or(0) as u8;
    let octave = letters.as_str().parse().unwrap_or(4);
    let pitch = Pitch { octave, step, alter: 0 };
    let note = Note { pitch, unpitched: false, accidental: false, tie_starts: false, tie_stops: false, nth: None };
    event(Fraction::whole(beat), Fraction::ONE, EventKind::Chord(vec![note]))
}

/// Puts events in the place of a bar's rest.
pub(crate) fn put(score: &mut Score, bar: u32, staff: usize, events: Vec<Event>) {
    let at = bar as usize * score.staves.len() + staff;
    score.cells[at].events = events;
}

/// Adds a dynamic at the start of a bar.
pub(crate) fn put_dynamic(score: &mut Score, bar: u32, staff: usize, text: &str) {
    let at = bar as usize * score.staves.len() + staff;
    let kind = MarkKind::Dynamic(text.to_owned());
    score.cells[at].marks.push(StaffMark::new(Fraction::ZERO, kind));
}

/// A record that says nothing, with a staff height, for every movement and bar of a score.
pub(crate) fn record(score: &Score, staff_height: Mm) -> Record {
    Record {
        defaults: vec![BarRecord::default(); score.movements.len()],
        bars: vec![BarRecord::default(); score.bars.len()],
        staff_heights: vec![Some(staff_height); score.movements.len()],
    }
}

/// What a bar says about the distance of one staff.
pub(crate) fn distance(staff: u16, mm: f64) -> (StaffId, StaffRecord) {
    (StaffId(staff), StaffRecord { distance: Some(Mm(mm)), ..StaffRecord::default() })
}

/// A record in which anything may be missing or absurd.
pub(crate) fn any_bar() -> impl Strategy<Value = BarRecord> {
    let length = || proptest::option::weighted(0.5, (0.0..400.0f64).prop_map(Mm));
    let staff = (0..6u16, length(), proptest::option::of(any::<bool>()), proptest::option::of(0..7u8));
    let staves = proptest::collection::vec(staff, 0..4);
    let flags = (proptest::option::of(any::<bool>()), proptest::option::weighted(0.2, any::<bool>()));
    (length(), length(), length(), flags, staves).prop_map(|(width, distance, left, (system, page), staves)| {
        BarRecord {
            new_system: system,
            new_page: page,
            width,
            system: SystemRecord { left, distance, ..SystemRecord::default() },
            staves: staves
                .into_iter()
                .map(|(staff, distance, shown, lines)| {
                    (StaffId(staff), StaffRecord { distance, shown, lines, ..StaffRecord::default() })
                })
                .collect(),
            ..BarRecord::default()
        }
    })
}
