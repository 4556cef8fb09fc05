//! The second draft that a plan describes.

use rastrum::place::{BarIdx, BarSpan, PartId};
use rastrum::score::{
    Cell, Event, EventKind, Grace, MarkKind, Pitch, Score, SignKind, Signs, Staff, StaffMark, SystemMark, Transposition,
};
use rastrum::units::Fraction;

use super::plan::{Edit, Plan, PlannedPart, staves};

/// A note that anything can be done to.
pub fn is_plain(event: &Event) -> bool {
    event.printed && !event.cue && event.grace == Grace::No && matches!(event.kind, EventKind::Chord(_))
}

/// Makes it.
pub fn build(old: &Score, plan: &Plan) -> Score {
    let mut new = Score { title: old.title.clone(), ..old.clone() };
    new.parts = plan.parts.iter().map(|own| part(old, own)).collect();
    new.groups.clear();
    new.staves.clear();
    for (at, own) in plan.parts.iter().enumerate() {
        let count = staves(old, own.source).len() as u16;
        new.staves.extend((1..=count).map(|number| Staff { part: PartId(at as u16), number }));
    }
    new.bars.clear();
    new.cells.clear();
    new.marks.clear();
    for (at, own) in plan.bars.iter().enumerate() {
        let mut bar = old.bars[own.source].clone();
        bar.label = (at + 1).to_string();
        new.bars.push(bar);
        for part in &plan.parts {
            let mut cells: Vec<Cell> = staves(old, part.source)
                .iter()
                .map(|staff| old.cells[own.source * old.staves.len() + staff].clone())
                .collect();
            cells.iter_mut().for_each(|cell| shift(cell, own.shift + part.shift));
            if let Some(edit) = own.is.zip(part.is).and_then(|cell| plan.edits.get(&cell)) {
                change(&mut cells, *edit);
            }
            if let Some(by) = part.transposed {
                cells.iter_mut().for_each(|cell| transpose(cell, by));
            }
            new.cells.extend(cells);
        }
        let marks = old.marks.iter().filter(|mark| own.is.is_some() && mark.bar.at() == own.source);
        new.marks.extend(marks.map(|mark| SystemMark { bar: BarIdx(at as u32), ..mark.clone() }));
    }
    let mut movement = old.movements[0].clone();
    movement.bars = BarSpan::new(BarIdx(0), BarIdx(plan.bars.len() as u32 - 1));
    new.movements = vec![movement];
    new
}

fn part(old: &Score, own: &PlannedPart) -> rastrum::score::Part {
    let mut part = old.parts[own.source].clone();
    if let Some(name) = &own.name {
        part.name = name.clone();
        part.abbreviation = name.clone();
    }
    if own.is.is_none() {
        part.id = format!("added-{}", part.id);
    }
    part
}

fn pitches(cell: &mut Cell) -> impl Iterator<Item = &mut Pitch> {
    let chords = cell.events.iter_mut().filter_map(|event| match &mut event.kind {
        EventKind::Chord(notes) => Some(notes),
        EventKind::Rest { .. } => None,
    });
    chords.flatten().map(|note| &mut note.pitch)
}

fn shift(cell: &mut Cell, by: i8) {
    for pitch in pitches(cell) {
        let steps = pitch.steps() + i32::from(by);
        pitch.octave = steps.div_euclid(7) as i8;
        pitch.step = steps.rem_euclid(7) as u8;
    }
}

fn transpose(cell: &mut Cell, (diatonic, chromatic): (i8, i8)) {
    let how = Transposition { diatonic, chromatic, octaves: 0 };
    cell.key.fifths -= how.fifths() as i8;
    let key = cell.key;
    for pitch in pitches(cell) {
        *pitch = how.written(*pitch, key);
    }
    cell.transposition = how;
}

/// Changes the first plain note of a bar, or what stands at it.
fn change(cells: &mut [Cell], edit: Edit) {
    let Some(cell) = cells.iter_mut().find(|cell| cell.events.iter().any(is_plain)) else { return };
    let Some(at) = cell.events.iter().position(is_plain) else { return };
    let onset = cell.events[at].onset;
    match edit {
        Edit::Pitch => {
            if let EventKind::Chord(notes) = &mut cell.events[at].kind {
                // Clear of every other note of the chord.
                let steps = notes.iter().map(|note| note.pitch.steps()).max().unwrap_or(0) + 1;
                let note = notes.last_mut().expect("a chord has notes");
                note.pitch.octave = steps.div_euclid(7) as i8;
                note.pitch.step = steps.rem_euclid(7) as u8;
            }
        }
        Edit::Rhythm => {
            let half = cell.events[at].length.checked_mul(Fraction::new(1, 2).expect("a half")).expect("a short note");
            let mut second = cell.events[at].clone();
            cell.events[at].length = half;
            second.length = half;
            second.onset = onset.checked_add(half).expect("inside the bar");
            cell.events.insert(at + 1, second);
        }
        Edit::Dynamic => cell.marks.push(StaffMark::new(onset, MarkKind::Dynamic("sffz".to_owned()))),
        Edit::Words => cell.marks.push(StaffMark::new(onset, MarkKind::Words("quasi niente".to_owned()))),
        Edit::Articulation => {
            let sign = Signs::named("stress");
            let own = &mut cell.events[at];
            let has = own.signs.of(SignKind::Articulation).names().any(|name| name == "stress");
            own.signs = if has { own.signs.without(sign) } else { own.signs.and(sign) };
        }
    }
}
