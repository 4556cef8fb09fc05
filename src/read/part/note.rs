//! Notes, rests and chords.

use roxmltree::Node;

use super::{Last, PartReader};
use crate::read::cursor::Ticks;
use crate::read::draft::Music;
use crate::read::error::{ReadErrorKind, Trouble};
use crate::read::oddities::Oddity;
use crate::read::xml;
use crate::score::{Clef, Event, EventKind, Grace, MarkKind, Note, NoteValue, Pitch, StaffMark, Stem, Syllable};
use crate::units::{Fraction, Mm};

/// A `note` element as read, before it has its place.
pub(super) struct ReadNote {
    pub event: Event,
    pub note: Option<Note>,
    pub dynamics: Vec<StaffMark>,
    chord: bool,
    whole_bar: bool,
    ticks: Option<Ticks>,
    /// Actual and normal notes of a tuplet.
    tuplet: Option<(i64, i64)>,
    staff: u16,
}

impl PartReader {
    pub(super) fn note(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let nth = u32::try_from(self.note_elements - self.notes_before).ok();
        self.note_elements += 1;
        let mut read = ReadNote::new();
        read.event.nth = nth;
        read.attributes(node, music.tenth);
        let mut is_rest = false;
        for (name, child) in xml::elements(node) {
            match name {
                "pitch" => read.note = pitch(child).map(|pitch| Note { nth, ..note(pitch, false) }),
                "unpitched" => read.note = Some(Note { nth, ..note(unpitched(child), true) }),
                "rest" => {
                    is_rest = true;
                    read.whole_bar = child.attribute("measure") == Some("yes");
                }
                "duration" => read.ticks = Some(self.duration(child, music)?),
                "chord" => read.chord = true,
                "grace" => {
                    let stroked = child.attribute("slash") == Some("yes");
                    read.event.grace = if stroked { Grace::Stroked } else { Grace::Plain };
                }
                "cue" => read.event.cue = true,
                "voice" => read.event.voice = voice(xml::text(child)),
                "staff" => read.staff = self.staff_number(child, music)?,
                "type" => {
                    read.event.value.halvings = halvings(xml::text(child));
                    read.event.cue |= child.attribute("size") == Some("cue");
                }
                "dot" => read.event.value.dots = read.event.value.dots.saturating_add(1),
                "stem" => {
                    read.event.stem = match xml::text(child) {
                        "up" => Stem::Up,
                        "down" => Stem::Down,
                        "none" => Stem::None,
                        _ => Stem::Unknown,
                    }
                }
                "beam" => read.event.beams = read.event.beams.saturating_add(1),
                "tie" => read.tie(child),
                "accidental" => {
                    if let Some(note) = &mut read.note {
                        note.accidental = child.attribute("print-object") != Some("no");
                    }
                }
                "time-modification" => read.tuplet = tuplet(child),
                "notations" => read.notations(child, music),
                "lyric" => read.lyric(child, music),
                other => music.oddities.unread(other),
            }
        }
        if read.note.is_none() && !is_rest {
            let place = self.describe();
            music.odd(Oddity::NoPitch, node, || place);
        }
        self.place_note(read, node, music)
    }

    /// Puts a note where it belongs and moves on.
    fn place_note(&mut self, mut read: ReadNote, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let overflow = |music: &Music| music.trouble(node, ReadErrorKind::Overflow);
        if read.chord {
            match self.last {
                Some(last) => return self.join_chord(last, read, node, music),
                None => {
                    let place = self.describe();
                    music.odd(Oddity::LostChord, node, || place);
                }
            }
        }
        let onset = self.now(node, music)?;
        let is_grace = read.event.grace != Grace::No;
        let length = match read.ticks {
            _ if is_grace => Fraction::ZERO,
            Some(ticks) => {
                self.cursor.advance(ticks).ok_or_else(|| overflow(music))?;
                self.cursor.length(ticks).ok_or_else(|| overflow(music))?
            }
            None => {
                let place = self.describe();
                music.odd(Oddity::NoDuration, node, || place);
                let length = written_length(read.event.value, read.tuplet);
                self.cursor.move_by(length).ok_or_else(|| overflow(music))?;
                length
            }
        };
        if !is_grace {
            self.figures = Fraction::ZERO;
            self.reached(node, music)?;
        }
        // Older files give a bar's rest no sign of its own: a rest without value, or a whole rest, that fills the bar.
        let fills = onset.is_zero() && self.metre_length == Some(length);
        let whole_bar = read.whole_bar || (fills && matches!(read.event.value.halvings, None | Some(0)));
        read.event.kind = match read.note.take() {
            Some(note) => EventKind::Chord(vec![note]),
            None => EventKind::Rest { whole_bar },
        };
        (read.event.onset, read.event.length) = (onset, length);
        self.push(read);
        Ok(())
    }

    /// Adds an event with its dynamics; chord members that follow will join it.
    fn push(&mut self, mut read: ReadNote) {
        let (onset, length, staff) = (read.event.onset, read.event.length, read.staff);
        let Some(open) = self.open_cell(staff) else { return };
        for mark in &mut read.dynamics {
            mark.onset = onset;
        }
        open.marks.append(&mut read.dynamics);
        let index = open.events.len();
        open.events.push(read.event);
        self.last = Some(Last { onset, length, staff, index });
    }

    fn join_chord(
        &mut self,
        last: Last,
        mut read: ReadNote,
        node: Node<'_, '_>,
        music: &mut Music,
    ) -> Result<(), Trouble> {
        let Some(note) = read.note.take() else { return Ok(()) };
        if read.staff != last.staff {
            // A chord over two staves: its members on the other staff are an event there.
            read.event.kind = EventKind::Chord(vec![note]);
            (read.event.onset, read.event.length) = (last.onset, last.length);
            self.push(read);
            return Ok(());
        }
        let Some(open) = self.open_cell(last.staff) else { return Ok(()) };
        for mark in &mut read.dynamics {
            mark.onset = last.onset;
        }
        open.marks.append(&mut read.dynamics);
        let Some(event) = open.events.get_mut(last.index) else { return Ok(()) };
        let limit = music.limits.chord_notes;
        if matches!(&event.kind, EventKind::Chord(notes) if notes.len() >= limit) {
            return Err(music.trouble(node, ReadErrorKind::TooMany { what: "notes in a chord", limit }));
        }
        event.join(read.event, note);
        Ok(())
    }
}

impl ReadNote {
    fn new() -> ReadNote {
        let rest = EventKind::Rest { whole_bar: false };
        let event = Event::new(Fraction::ZERO, Fraction::ZERO, NoteValue::default(), rest);
        let dynamics = Vec::new();
        ReadNote { event, note: None, dynamics, chord: false, whole_bar: false, ticks: None, tuplet: None, staff: 0 }
    }

    fn attributes(&mut self, node: Node<'_, '_>, tenth: Option<Mm>) {
        for attribute in node.attributes() {
            let (name, value) = (attribute.name(), attribute.value());
            if name == "print-object" {
                self.event.printed = value != "no";
            } else {
                xml::place(&mut self.event.at, name, value, tenth);
            }
        }
    }

    /// `tie` (sounding) and `tied` (printed) say the same.
    pub(super) fn tie(&mut self, node: Node<'_, '_>) {
        if let Some(note) = &mut self.note {
            match node.attribute("type") {
                Some("start") => note.tie_starts = true,
                Some("stop") => note.tie_stops = true,
                Some("continue") => (note.tie_starts, note.tie_stops) = (true, true),
                _ => {}
            }
        }
    }

    pub(super) fn dynamic(&mut self, text: String, node: Node<'_, '_>, tenth: Option<Mm>) {
        if text.is_empty() {
            return;
        }
        self.dynamics.push(StaffMark {
            onset: Fraction::ZERO,
            kind: MarkKind::Dynamic(text),
            above: xml::placement(node),
            at: xml::position(node, tenth),
            nth: None,
        });
    }

    fn lyric(&mut self, node: Node<'_, '_>, music: &mut Music) {
        let mut text = String::new();
        for (name, child) in xml::elements(node) {
            match name {
                "text" | "elision" => text.push_str(child.text().unwrap_or_default()),
                "syllabic" | "extend" => {}
                other => music.oddities.unread(other),
            }
        }
        let text = xml::tidy(&text);
        if text.is_empty() || node.attribute("print-object") == Some("no") {
            return;
        }
        let next = u8::try_from(self.event.lyrics.len() + 1).unwrap_or(u8::MAX);
        let verse = node.attribute("number").and_then(|number| number.parse().ok()).unwrap_or(next);
        self.event.lyrics.push(Syllable { verse, text });
    }
}

impl Event {
    /// Takes in a further note of the same chord.
    fn join(&mut self, other: Event, note: Note) {
        match &mut self.kind {
            EventKind::Chord(notes) => {
                let height = |note: &Note| (note.pitch.steps(), note.pitch.alter);
                let at = notes.partition_point(|known| height(known) <= height(&note));
                notes.insert(at, note);
            }
            EventKind::Rest { .. } => self.kind = EventKind::Chord(vec![note]),
        }
        self.articulations = self.articulations.saturating_add(other.articulations);
        self.ornaments = self.ornaments.saturating_add(other.ornaments);
        self.signs = self.signs.and(other.signs);
        self.tremolo = self.tremolo.max(other.tremolo);
        self.tremolo_between |= other.tremolo_between;
        self.fermata |= other.fermata;
        self.arpeggio |= other.arpeggio;
        self.tuplet_starts |= other.tuplet_starts;
        self.beams = self.beams.max(other.beams);
        self.slurs.starts = self.slurs.starts.saturating_add(other.slurs.starts);
        self.slurs.stops = self.slurs.stops.saturating_add(other.slurs.stops);
        self.lyrics.extend(other.lyrics);
    }
}

fn note(pitch: Pitch, unpitched: bool) -> Note {
    Note { pitch, unpitched, accidental: false, tie_starts: false, tie_stops: false, nth: None }
}

fn pitch(node: Node<'_, '_>) -> Option<Pitch> {
    let (mut step, mut octave, mut alter) = (None, None, 0);
    for (name, child) in xml::elements(node) {
        match name {
            "step" => step = step_number(xml::text(child)),
            "octave" => octave = xml::whole::<i8>(child),
            // Counted in half tones; kept in quarter tones.
            "alter" => {
                alter = xml::number(child).map_or(0, |half_tones| (half_tones * 2.0).round().clamp(-12.0, 12.0) as i8)
            }
            _ => {}
        }
    }
    Some(Pitch { octave: octave?.clamp(-2, 12), step: step?, alter })
}

/// Where an unpitched note stands, on the middle line when the file does not say.
fn unpitched(node: Node<'_, '_>) -> Pitch {
    let (mut step, mut octave) = (None, None);
    for (name, child) in xml::elements(node) {
        match name {
            "display-step" => step = step_number(xml::text(child)),
            "display-octave" => octave = xml::whole::<i8>(child),
            _ => {}
        }
    }
    let middle = Clef::default().middle_line_steps();
    let (line_octave, line_step) = (middle.div_euclid(7) as i8, middle.rem_euclid(7) as u8);
    Pitch { octave: octave.unwrap_or(line_octave).clamp(-2, 12), step: step.unwrap_or(line_step), alter: 0 }
}

fn step_number(text: &str) -> Option<u8> {
    match text {
        "C" => Some(0),
        "D" => Some(1),
        "E" => Some(2),
        "F" => Some(3),
        "G" => Some(4),
        "A" => Some(5),
        "B" => Some(6),
        _ => None,
    }
}

fn voice(text: &str) -> u16 {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    text.get(..end).and_then(|digits| digits.parse().ok()).unwrap_or(1)
}

fn halvings(name: &str) -> Option<i8> {
    const NAMES: [&str; 14] = [
        "maxima", "long", "breve", "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "256th",
        "512th", "1024th",
    ];
    let at = NAMES.iter().position(|known| *known == name)?;
    i8::try_from(at).ok().map(|at| at - 3)
}

fn tuplet(node: Node<'_, '_>) -> Option<(i64, i64)> {
    let (mut actual, mut normal) = (None, None);
    for (name, child) in xml::elements(node) {
        match name {
            "actual-notes" => actual = xml::whole::<i64>(child),
            "normal-notes" => normal = xml::whole::<i64>(child),
            _ => {}
        }
    }
    Some((actual.filter(|notes| (1..=10_000).contains(notes))?, normal.filter(|notes| (1..=10_000).contains(notes))?))
}

/// Length in quarters of a note value, for files that give no duration; 0 when the value is not known either.
fn written_length(value: NoteValue, tuplet: Option<(i64, i64)>) -> Fraction {
    let plain = match value.halvings {
        Some(halvings) if halvings <= 2 => Fraction::new(4 << (-halvings).clamp(0, 3), 1 << halvings.clamp(0, 2)),
        Some(halvings) => Fraction::new(1, 1 << (halvings - 2).clamp(0, 10)),
        None => None,
    };
    let dots = value.dots.min(6);
    // n dots make it 2 - 1 / 2^n times as long.
    let dotted = Fraction::new((2 << dots) - 1, 1 << dots);
    let (actual, normal) = tuplet.unwrap_or((1, 1));
    let all = [dotted, Fraction::new(normal, actual)];
    all.into_iter().fold(plain, |length, by| length?.checked_mul(by?)).unwrap_or(Fraction::ZERO)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn length(halvings: i8, dots: u8, tuplet: Option<(i64, i64)>) -> String {
        written_length(NoteValue { halvings: Some(halvings), dots }, tuplet).to_string()
    }

    #[test]
    fn a_note_value_has_the_length_that_every_player_knows() {
        assert_eq!(length(0, 0, None), "4");
        assert_eq!(length(-1, 0, None), "8");
        assert_eq!(length(2, 1, None), "3/2");
        assert_eq!(length(1, 2, None), "7/2");
        assert_eq!(length(4, 0, None), "1/4");
        assert_eq!(length(3, 0, Some((3, 2))), "1/3");
    }

    #[test]
    fn names_of_note_values_run_from_the_longest() {
        assert_eq!(halvings("breve"), Some(-1));
        assert_eq!(halvings("quarter"), Some(2));
        assert_eq!(halvings("16th"), Some(4));
        assert_eq!(halvings("minim"), None);
    }

    #[test]
    fn steps_are_single_letters() {
        assert_eq!(step_number("C"), Some(0));
        assert_eq!(step_number("B"), Some(6));
        assert_eq!(step_number("CD"), None);
        assert_eq!(step_number(""), None);
    }
}
