//! One bar of a part: the player's notes at their time, and what stands over other staves for all.

use std::collections::BTreeMap;

use super::gaps::{Stretch, uncovered};
use super::line::{Own, Place};
use super::note::{Change, changed, value_of};
use super::overhead::{divisions_of, side_of, staff_of, ticks_of};
use super::pen::Pen;
use super::source::SourceBar;
use super::{attributes, tag};
use crate::place::{BarIdx, StaffId};
use crate::players::Player;
use crate::read::{Cursor, Element, elements};
use crate::score::{Barline, EventKind, SystemMarkKind};
use crate::units::Fraction;

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
    let label = job.place.score.label(job.bar);
    let head = match text.head {
        "" => format!("<measure number=\"{}\">", tag::escaped(label)),
        head => tag::without(head, &["width"]),
    };
    format!("\n    {}", tag::around(&head, &(bar.pen.out + "\n    ")))
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
            "direction" | "harmony" => {
                if self.line_of(staff_of(element)).is_some() {
                    let text = self.on_own_staff(element);
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

    fn on_own_staff(&self, element: &Element<'a>) -> String {
        let line = self.line_of(staff_of(element)).unwrap_or(0);
        let mut content = String::new();
        let mut children = element.children();
        // Some programs write the staff after the sound, where it may not stand.
        children.sort_by_key(|child| child.name == "sound");
        for child in children {
            let text = match (child.name, self.number(line)) {
                ("staff", None) => continue,
                ("staff", Some(number)) => tag::around(child.head, &number.to_string()),
                _ => child.whole.to_owned(),
            };
            content.push_str(child.before);
            content.push_str(&text);
        }
        let end = element.inner.get(element.inner.trim_ascii_end().len()..).unwrap_or_default();
        tag::around(element.head, &(content + end))
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

    /// Rests where another player's note stood and nothing of the player's own sounds.
    fn fill(&mut self, line: usize, stretch: Stretch, note: &Element<'a>) {
        let Some(filled) = self.filled.get_mut(line).filter(|filled| !filled.is_empty()) else { return };
        let gaps = uncovered(stretch, filled);
        filled.extend(&gaps);
        for gap in gaps {
            if gap.0 == stretch.0 {
                self.pen.go_to(gap.0);
                self.figures();
            }
            let value = if gap == stretch { value_of(note) } else { String::new() };
            let voice = note.child("voice").map_or("", |voice| voice.whole);
            self.rest(gap, "<rest/>", voice, &value, line);
        }
    }

    /// Writes the figures of what comes next.
    fn figures(&mut self) {
        for figures in std::mem::take(&mut self.figures) {
            self.pen.write(figures);
        }
    }

    fn rest(&mut self, (from, to): Stretch, rest: &str, voice: &str, value: &str, line: usize) {
        let length = to.checked_sub(from).unwrap_or(Fraction::ZERO);
        let ticks = self.pen.ticks(length);
        let staff = self.number(line).map_or_else(String::new, |staff| format!("<staff>{staff}</staff>"));
        self.pen.go_to(from);
        self.pen.write(&format!("<note>{rest}<duration>{ticks}</duration>{voice}{value}{staff}</note>"));
        self.pen.took(length);
    }

    /// A bar's rest on each staff that has nothing else.
    fn whole_bar_rests(&mut self, is_missing: bool) {
        let length = self.job.place.score.bar(self.job.bar).map_or(Fraction::ZERO, |bar| bar.length);
        for line in 0..self.filled.len() {
            let is_empty = self.filled.get(line).is_some_and(Vec::is_empty);
            let lacks = self.job.is_rest || is_missing || self.dropped.get(line).copied().unwrap_or(false);
            if is_empty && lacks && length > Fraction::ZERO {
                let voice = format!("<voice>{}</voice>", line * 4 + 1);
                self.rest((Fraction::ZERO, length), "<rest measure=\"yes\"/>", &voice, "", line);
            }
        }
    }

    /// What is said before the bar's first note.
    fn begin(&mut self, inner: &str) {
        if self.job.begins.rest > 1 {
            let bars = self.job.begins.rest;
            self.pen.write(&format!(
                "<attributes><measure-style><multiple-rest>{bars}</multiple-rest></measure-style></attributes>"
            ));
        }
        if !self.job.leads {
            return;
        }
        let Place { score, overhead, .. } = self.job.place;
        let from = score.marks.partition_point(|mark| mark.bar < self.job.bar);
        let marks = score.marks.get(from..).unwrap_or_default().iter();
        let mut written: Vec<String> = Vec::new();
        for mark in marks.take_while(|mark| mark.bar == self.job.bar) {
            let texts = match (mark.over.first(), &mark.kind) {
                (None, SystemMarkKind::Tempo { quarters_per_minute: Some(tempo), .. })
                    if !inner.contains(" tempo=") =>
                {
                    vec![format!("<sound tempo=\"{tempo}\"/>")]
                }
                (Some(staff), kind) if !mark.over.iter().any(|staff| self.is_own(*staff)) => {
                    let place = self.job.place.of_staff(*staff);
                    place.map_or_else(Vec::new, |place| overhead.marks(self.job.at, mark.onset, kind, place))
                }
                _ => continue,
            };
            for text in texts {
                if !written.contains(&text) {
                    self.pen.go_to(mark.onset);
                    self.pen.write(&text);
                    written.push(text);
                }
            }
        }
    }

    fn is_own(&self, staff: StaffId) -> bool {
        self.job.player.staves.contains(&staff)
    }

    /// The barline of another part, where the own one is missing or lacks the fermata.
    fn fuller_barline(&mut self, side: &'static str, inside: &[Element<'a>]) -> Option<&'w str> {
        let bar = self.job.place.score.bar(self.job.bar)?;
        let line = if side == "left" { bar.left } else { bar.right };
        let own = inside.iter().find(|element| element.name == "barline" && side_of(element) == side);
        let lacks = match own {
            None => line != Barline::default() || bar.ending.is_some(),
            Some(own) => line.fermata && own.child("fermata").is_none(),
        };
        let found = lacks.then(|| self.job.place.overhead.barline(self.job.at, side, line.fermata)).flatten();
        self.replaced.extend(found.map(|_| side));
        found
    }
}

/// For the first kept note of each chord, the notes of it that are not kept.
fn others<'a>(inside: &[Element<'a>], kept: &[u32]) -> BTreeMap<u32, Vec<Element<'a>>> {
    let mut chords: Vec<Vec<(u32, Element<'a>)>> = Vec::new();
    let mut is_open = false;
    let mut nth = 0;
    for element in inside {
        match element.name {
            "note" => {
                let note = (nth, *element);
                nth += 1;
                match chords.last_mut().filter(|_| is_open && element.child("chord").is_some()) {
                    Some(chord) => chord.push(note),
                    None => chords.push(vec![note]),
                }
                is_open = true;
            }
            "backup" | "forward" => is_open = false,
            _ => {}
        }
    }
    let split = chords.into_iter().filter(|chord| chord.len() > 1).filter_map(|chord| {
        let (own, other): (Vec<_>, Vec<_>) = chord.into_iter().partition(|(nth, _)| kept.binary_search(nth).is_ok());
        let (first, _) = own.first().filter(|_| !other.is_empty())?;
        Some((*first, other.into_iter().map(|(_, note)| note).collect()))
    });
    split.collect()
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
