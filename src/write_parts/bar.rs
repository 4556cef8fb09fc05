//! One bar of a part: the player's notes at their time, and what stands over other staves for all.

use std::collections::BTreeMap;

use super::gaps::Stretch;
use super::line::{Own, Place};
use super::note::{Change, changed};
use super::overhead::{divisions_of, side_of, staff_of, ticks_of};
use super::pen::Pen;
use super::source::SourceBar;
use super::{attributes, tag};
use crate::place::BarIdx;
use crate::players::Player;
use crate::read::{Cursor, Element, elements};
use crate::score::EventKind;
use crate::units::Fraction;

mod chords;
mod directions;
mod over;
mod pauses;
mod rests;

use chords::others;

/// What is to be written.
pub(super) struct BarJob<'j> {
    pub place: &'j Place<'j>,
    pub player: &'j Player,
    pub own: &'j Own,
    pub bar: BarIdx,
    /// Counted from the movement's first.
    pub at: usize,
    pub begins: Begins,
    /// Printed as a rest of this or more bars.
    pub is_rest: bool,
    /// The first of the player's parts in the file: what holds for all is said over it.
    pub leads: bool,
}

/// What is said before the bar's music.
pub(super) struct Begins {
    pub print: Option<String>,
    /// Bars of the multi-bar rest that begins here; 1 for none.
    pub rest: usize,
}

/// The bar's element. `divisions` and `cursor` go on from bar to bar of one part.
pub(super) fn write_bar(job: &BarJob<'_>, text: SourceBar<'_>, divisions: &mut i64, cursor: &mut Cursor) -> String {
    cursor.start_bar();
    let before = *divisions;
    let mut bar = BarWriter::new(job, cursor, *divisions);
    let inside = elements(text.inner);
    bar.pen.space = inside.iter().map(|element| element.before).find(|space| !space.is_empty()).unwrap_or("\n      ");
    if let Some(print) = &job.begins.print {
        bar.pen.write(print);
    }
    let (left, right) = (bar.fuller_barline("left", &inside), bar.fuller_barline("right", &inside));
    if let Some(left) = left {
        bar.pen.write(left);
    }
    let mut is_begun = false;
    bar.others = others(&inside, &bar.kept);
    for element in &inside {
        let is_head =
            matches!(element.name, "attributes" | "print") || element.name == "barline" && side_of(element) == "left";
        if !is_head && !is_begun {
            is_begun = true;
            bar.begin(text.inner);
        }
        bar.element(element);
    }
    if !is_begun {
        bar.begin(text.inner);
    }
    bar.whole_bar_rests(inside.is_empty());
    // Barlines on the right stand last.
    let own = std::mem::take(&mut bar.right);
    for line in right.iter().chain(&own) {
        bar.pen.write(line);
    }
    *divisions = bar.pen.divisions;
    let mut content = bar.pen.out;
    if let Some(at) = pauses::pause(job.place.score, job.bar).filter(|_| job.leads) {
        content = pauses::with_pause(&content, before, at);
    }
    let label = job.place.score.label(job.bar);
    let head = match text.head {
        "" => format!("<measure number=\"{}\">", tag::escaped(label)),
        head => tag::without(head, &["width"]),
    };
    format!("\n    {}", tag::around(&head, &(content + "\n    ")))
}

struct BarWriter<'w, 'a> {
    job: &'w BarJob<'w>,
    cursor: &'w mut Cursor,
    pen: Pen<'a>,
    /// Note elements that are the player's, in order.
    kept: Vec<u32>,
    /// For each of the player's staves, what the player's notes and rests fill.
    filled: Vec<Vec<Stretch>>,
    /// For each of the player's staves, whether another player's notes stood there.
    dropped: Vec<bool>,
    /// Whether any note of these staves is another player's.
    is_shared: bool,
    /// Note elements seen so far.
    seen: u32,
    /// Direction elements seen so far.
    directions: u32,
    chord: Option<OpenChord>,
    /// The first note of each chord that is written, with the notes of it that are not.
    others: BTreeMap<u32, Vec<Element<'a>>>,
    /// Figures, which belong to the note that follows.
    figures: Vec<&'a str>,
    right: Vec<&'a str>,
    /// Sides on which a fuller barline of another part stands in the place of the own one.
    replaced: Vec<&'static str>,
}

/// The chord that further notes join.
struct OpenChord {
    onset: Fraction,
    length: Fraction,
    /// One of its notes is written.
    is_begun: bool,
}

impl<'w, 'a> BarWriter<'w, 'a> {
    fn new(job: &'w BarJob<'w>, cursor: &'w mut Cursor, divisions: i64) -> BarWriter<'w, 'a> {
        let (mut kept, mut filled) = (Vec::new(), Vec::new());
        let mut notes_kept = 0;
        for line in &job.own.lines {
            let mut stretches = Vec::new();
            let cell = job.player.music.cell(job.bar, *line).filter(|_| !job.is_rest);
            for event in cell.iter().flat_map(|cell| &cell.events) {
                match &event.kind {
                    EventKind::Chord(notes) => kept.extend(notes.iter().filter_map(|note| note.nth)),
                    EventKind::Rest { .. } => kept.extend(event.nth),
                }
                notes_kept += notes_in(&event.kind);
                if event.nth.is_some() {
                    stretches.push((event.onset, event.onset.checked_add(event.length).unwrap_or(event.onset)));
                }
            }
            filled.push(stretches);
        }
        kept.sort_unstable();
        let all: usize = job.own.staves.iter().map(|staff| notes_on(job, *staff)).sum();
        BarWriter {
            job,
            cursor,
            pen: Pen::new(divisions),
            is_shared: notes_kept < all && !job.is_rest,
            kept,
            dropped: vec![false; filled.len()],
            filled,
            seen: 0,
            directions: 0,
            chord: None,
            others: BTreeMap::new(),
            figures: Vec::new(),
            right: Vec::new(),
            replaced: Vec::new(),
        }
    }

    fn element(&mut self, element: &Element<'a>) {
        match element.name {
            "note" => self.note(element),
            "backup" => {
                self.chord = None;
                ticks_of(element).and_then(|ticks| self.cursor.back(ticks));
            }
            "forward" => {
                self.chord = None;
                ticks_of(element).and_then(|ticks| self.cursor.advance(ticks));
            }
            "attributes" => self.attributes(element),
            "print" => {}
            "barline" if self.replaced.contains(&side_of(element)) => {}
            "barline" if side_of(element) == "right" => self.right.push(element.whole),
            "figured-bass" if self.line_of(1).is_some() => self.figures.push(element.whole),
            "figured-bass" => {}
            "direction" => {
                let nth = self.directions;
                self.directions += 1;
                self.direction(element, nth);
            }
            "harmony" => {
                if let Some(line) = self.line_of(staff_of(element)) {
                    let text = self.on_own_staff(element, line, &[]);
                    self.here();
                    self.pen.write(&text);
                }
            }
            _ => {
                self.here();
                self.pen.write(element.whole);
            }
        }
    }

    /// Writes on where the file stands.
    fn here(&mut self) {
        self.pen.go_to(self.now());
    }

    fn now(&self) -> Fraction {
        self.cursor.now().unwrap_or(Fraction::ZERO)
    }

    /// Which of the player's staves a staff of the file's part is.
    fn line_of(&self, staff: u16) -> Option<usize> {
        self.job.own.staves.iter().position(|own| *own == staff)
    }

    /// The number of a staff in the part; `None` where it has one only.
    fn number(&self, line: usize) -> Option<u16> {
        (self.job.own.staves.len() > 1).then_some(line).and_then(|line| u16::try_from(line + 1).ok())
    }

    fn attributes(&mut self, element: &Element<'a>) {
        self.here();
        if let Some(divisions) = divisions_of(element) {
            self.cursor.set_divisions(divisions);
            self.pen.divisions = divisions;
        }
        if let Some(text) = attributes::of_staves(element, &self.job.own.staves) {
            self.pen.write(&text);
        }
    }

    fn note(&mut self, note: &Element<'a>) {
        let nth = self.seen;
        self.seen += 1;
        let children = note.children();
        let has = |name: &str| children.iter().any(|child| child.name == name);
        let joins = has("chord") && self.chord.is_some();
        if !joins {
            let onset = self.now();
            let length = self.length_of(note, has("grace"), nth);
            self.chord = Some(OpenChord { onset, length, is_begun: false });
        }
        let Some(chord) = &self.chord else { return };
        let (onset, length, is_begun) = (chord.onset, chord.length, chord.is_begun);
        let line = self.line_of(staff_of(note));
        let Some(line) = line else { return };
        if self.kept.binary_search(&nth).is_err() {
            if let Some(dropped) = self.dropped.get_mut(line) {
                *dropped = true;
            }
            if !joins && length > Fraction::ZERO {
                self.fill(line, (onset, onset.checked_add(length).unwrap_or(onset)), note);
                self.figures.clear();
            }
            return;
        }
        let staff = self.number(line);
        let begins_chord = has("chord") && !is_begun;
        let others = self.others.get(&nth).map_or(&[][..], Vec::as_slice);
        let text = changed(note, Change { staff, begins_chord, stands_free: self.is_shared, others });
        if !is_begun {
            self.pen.go_to(onset);
            self.figures();
            self.pen.took(length);
        }
        self.pen.write(&text);
        if let Some(chord) = &mut self.chord {
            chord.is_begun = true;
        }
    }

    /// How long a note is; moves on by it.
    fn length_of(&mut self, note: &Element<'a>, is_grace: bool, nth: u32) -> Fraction {
        if is_grace {
            return Fraction::ZERO;
        }
        if let Some(ticks) = ticks_of(note) {
            self.cursor.advance(ticks);
            return self.cursor.length(ticks).unwrap_or(Fraction::ZERO);
        }
        // Without a duration it is as long as the reader took it to be.
        let lines = self.job.own.lines.iter();
        let events =
            lines.filter_map(|line| self.job.player.music.cell(self.job.bar, *line)).flat_map(|cell| &cell.events);
        let known = events.filter(|event| event.nth == Some(nth)).map(|event| event.length).next();
        let length = known.unwrap_or(Fraction::ZERO);
        self.cursor.move_by(length);
        length
    }
}

/// Notes on a staff of the player's file in this bar, whoever plays them.
fn notes_on(job: &BarJob<'_>, staff: u16) -> usize {
    let Place { score, movement, .. } = job.place;
    let part = movement.parts.get(job.own.part);
    let found = part.and_then(|part| score.staves_of(*part).nth(usize::from(staff.saturating_sub(1))));
    let events = found.and_then(|staff| score.cell(job.bar, staff)).map_or(&[][..], |cell| &cell.events);
    events.iter().map(|event| notes_in(&event.kind)).sum()
}

fn notes_in(kind: &EventKind) -> usize {
    match kind {
        EventKind::Chord(notes) => notes.len(),
        EventKind::Rest { .. } => 0,
    }
}
