//! Directions: dynamics, hairpins, words, lines, tempo and rehearsal marks; chord symbols and figures.

use roxmltree::Node;

use super::{LocalStaff, PartReader, notations};
use crate::read::cursor::Ticks;
use crate::read::draft::{MarkDraft, Music};
use crate::read::error::{ReadErrorKind, Trouble};
use crate::read::oddities::Oddity;
use crate::read::tempo::{self, Metronome};
use crate::read::words::{self, Meaning};
use crate::read::xml;
use crate::score::{MarkKind, Position, StaffMark, SystemMarkKind};
use crate::units::Fraction;

/// What a `direction` says beside its marks at the staff.
#[derive(Default)]
struct Said {
    words: String,
    words_at: Option<Position>,
    metronome: Option<Metronome>,
    metronome_at: Position,
    sound: Sound,
}

/// A `sound` element: what playback does.
#[derive(Default)]
struct Sound {
    quarters_per_minute: Option<f64>,
    jump: Option<&'static str>,
}

/// Where a direction stands.
#[derive(Clone, Copy)]
struct Spot {
    onset: Fraction,
    staff: u16,
    above: Option<bool>,
    at: Position,
    /// Which direction of the bar it is.
    nth: Option<u32>,
}

impl PartReader {
    pub(super) fn direction(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let nth = Some(self.directions);
        self.directions += 1;
        let mut said = Said::default();
        let (mut offset, mut staff) = (None, 0);
        for (name, child) in xml::elements(node) {
            match name {
                "offset" => offset = Some(xml::text(child)),
                "staff" => staff = self.staff_number(child, music)?,
                "sound" => said.sound = self.read_sound(child, music),
                "direction-type" | "voice" => {}
                other => music.oddities.unread(other),
            }
        }
        let onset = self.now_with(offset, node, music)?;
        let spot = Spot { onset, staff, above: xml::placement(node), at: xml::position(node, music.tenth), nth };
        for (name, child) in xml::elements(node) {
            if name == "direction-type" {
                for (name, mark) in xml::elements(child) {
                    self.direction_type(name, mark, spot, &mut said, music);
                }
            }
        }
        self.conclude(said, spot, node, music);
        Ok(())
    }

    fn direction_type(&mut self, name: &str, node: Node<'_, '_>, spot: Spot, said: &mut Said, music: &mut Music) {
        let at = merged(spot.at, xml::position(node, music.tenth));
        let jump = |name: &str| SystemMarkKind::Jump(name.to_owned());
        let staff = Some(spot.staff);
        match name {
            "dynamics" => {
                let text = notations::dynamics(node);
                if !text.is_empty() {
                    self.staff_mark(MarkKind::Dynamic(text), Spot { at, ..spot });
                }
            }
            "words" => {
                if node.attribute("print-object") != Some("no") {
                    said.words.push_str(node.text().unwrap_or_default());
                    said.words.push(' ');
                    said.words_at.get_or_insert(at);
                }
            }
            "metronome" => {
                said.metronome_at = at;
                said.metronome = tempo::metronome(node, &mut music.oddities);
            }
            "rehearsal" => {
                let text = xml::tidy(xml::text(node));
                if !text.is_empty() {
                    self.mark(SystemMarkKind::Rehearsal(text), spot.onset, staff, at, music);
                }
            }
            "segno" => self.mark(jump("Segno"), spot.onset, staff, at, music),
            "coda" => self.mark(jump("Coda"), spot.onset, staff, at, music),
            "wedge" | "octave-shift" | "pedal" | "dashes" | "bracket" => {
                if let Some(kind) = line(name, node) {
                    self.staff_mark(kind, Spot { at, ..spot });
                }
            }
            other => music.oddities.unread(other),
        }
    }

    /// Decides what the words, the metronome mark and the playback of one direction mean together.
    fn conclude(&mut self, said: Said, spot: Spot, node: Node<'_, '_>, music: &mut Music) {
        let Spot { onset, staff, .. } = spot;
        let words = xml::tidy(&said.words);
        let printed_mark = said.metronome.as_ref().filter(|metronome| metronome.printed);
        let by_mark = said.metronome.as_ref().and_then(|metronome| metronome.quarters_per_minute);
        let quarters_per_minute = by_mark.or(said.sound.quarters_per_minute);
        let at = said.words_at.unwrap_or(said.metronome_at);
        let meaning = if words.is_empty() { None } else { words::meaning(&words) };
        if said.metronome.as_ref().is_some_and(|metronome| metronome.unreadable) && quarters_per_minute.is_none() {
            let place = self.describe();
            music.odd(Oddity::BadNumber, node, || place);
        }
        let tempo = |words: String, mark: Option<&Metronome>| SystemMarkKind::Tempo {
            words,
            metronome: mark.map(|metronome| metronome.mark.clone()),
            quarters_per_minute,
        };
        match meaning {
            Some(Meaning::TempoMoves) => {
                self.mark(SystemMarkKind::TempoMoves(words), onset, Some(staff), at, music);
                if printed_mark.is_some() || quarters_per_minute.is_some() {
                    self.mark(tempo(String::new(), printed_mark), onset, printed_mark.map(|_| staff), at, music);
                }
            }
            Some(Meaning::GeneralPause) => self.mark(SystemMarkKind::GeneralPause, onset, Some(staff), at, music),
            Some(Meaning::Jump) => self.mark(SystemMarkKind::Jump(words), onset, Some(staff), at, music),
            _ if quarters_per_minute.is_some() || printed_mark.is_some() || meaning == Some(Meaning::Tempo) => {
                let is_printed = !words.is_empty() || printed_mark.is_some();
                let words = tempo_words(&words).to_owned();
                self.mark(tempo(words, printed_mark), onset, is_printed.then_some(staff), at, music);
            }
            _ if words.is_empty() => {}
            _ => self.staff_mark(MarkKind::Words(words), Spot { at, ..spot }),
        }
        if let Some(jump) = said.sound.jump
            && meaning != Some(Meaning::Jump)
        {
            self.mark(SystemMarkKind::Jump(jump.to_owned()), onset, None, Position::default(), music);
        }
    }

    /// A `sound` of its own, outside directions.
    pub(super) fn sound(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let offset = xml::elements(node).find(|(name, _)| *name == "offset").map(|(_, child)| xml::text(child));
        let onset = self.now_with(offset, node, music)?;
        let sound = self.read_sound(node, music);
        let spot = Spot { onset, staff: 0, above: None, at: Position::default(), nth: None };
        self.conclude(Said { sound, ..Said::default() }, spot, node, music);
        Ok(())
    }

    fn read_sound(&mut self, node: Node<'_, '_>, music: &mut Music) -> Sound {
        let mut sound = Sound::default();
        for attribute in node.attributes() {
            match attribute.name() {
                "tempo" => {
                    sound.quarters_per_minute = xml::finite(attribute.value()).and_then(tempo::plausible);
                    if sound.quarters_per_minute.is_none() {
                        let place = self.describe();
                        music.odd(Oddity::BadNumber, node, || place);
                    }
                }
                "dacapo" => sound.jump = Some("Da capo"),
                "dalsegno" => sound.jump = Some("Dal segno"),
                "tocoda" => sound.jump = Some("To coda"),
                "fine" => sound.jump = Some("Fine"),
                _ => {}
            }
        }
        sound
    }

    pub(super) fn chord_symbol(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let (mut offset, mut staff) = (None, 0);
        for (name, child) in xml::elements(node) {
            match name {
                "offset" => offset = Some(xml::text(child)),
                "staff" => staff = self.staff_number(child, music)?,
                _ => {}
            }
        }
        let onset = self.now_with(offset, node, music)?;
        if node.attribute("print-object") != Some("no") {
            let at = xml::position(node, music.tenth);
            self.staff_mark(MarkKind::ChordSymbol, Spot { onset, staff, above: xml::placement(node), at, nth: None });
        }
        Ok(())
    }

    /// Figures stand before their note; several with durations follow one another under it.
    pub(super) fn figured_bass(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let (mut rows, mut ticks) = (0_u8, Ticks::Whole(0));
        for (name, child) in xml::elements(node) {
            match name {
                "figure" => rows = rows.saturating_add(1),
                "duration" => ticks = self.duration(child, music)?,
                other => music.oddities.unread(other),
            }
        }
        let overflow = || music.trouble(node, ReadErrorKind::Overflow);
        let length = self.cursor.length(ticks).ok_or_else(overflow)?;
        let onset = self.now(node, music)?.checked_add(self.figures).ok_or_else(overflow)?;
        self.figures = self.figures.checked_add(length).ok_or_else(overflow)?;
        let at = xml::position(node, music.tenth);
        self.staff_mark(MarkKind::Figures(rows), Spot { onset, staff: 0, above: xml::placement(node), at, nth: None });
        Ok(())
    }

    fn staff_mark(&mut self, kind: MarkKind, spot: Spot) {
        let Some(open) = self.open_cell(spot.staff) else { return };
        open.marks.push(StaffMark { onset: spot.onset, kind, above: spot.above, at: spot.at, nth: spot.nth });
    }

    /// A mark over the system, printed over `staff` or for playback only.
    pub(super) fn system_mark(
        &mut self,
        kind: SystemMarkKind,
        onset: Fraction,
        staff: Option<u16>,
        node: Node<'_, '_>,
        music: &mut Music,
    ) {
        let at = xml::position(node, music.tenth);
        self.mark(kind, onset, staff, at, music);
    }

    fn mark(&mut self, kind: SystemMarkKind, onset: Fraction, staff: Option<u16>, at: Position, music: &mut Music) {
        let Ok(bar) = u32::try_from(self.bar) else { return };
        let staff: Option<LocalStaff> = staff.map(|staff| self.local(staff));
        music.marks.push(MarkDraft { bar, onset, kind, staff, at });
    }
}

/// An end of a hairpin, of an octave or pedal line, of dashes or a bracket; `None` for what continues one.
fn line(name: &str, node: Node<'_, '_>) -> Option<MarkKind> {
    let number = xml::spanner_number(node);
    let octaves = || i8::try_from((xml::spanner_size(node) - 1) / 7).unwrap_or(1);
    Some(match (name, node.attribute("type")?) {
        ("wedge", "crescendo") => MarkKind::HairpinStart { number, opens: true },
        ("wedge", "diminuendo") => MarkKind::HairpinStart { number, opens: false },
        ("wedge", "stop") => MarkKind::HairpinStop { number },
        // MusicXML's "down" is 8va: written lower than it sounds.
        ("octave-shift", "down") => MarkKind::OctaveLineStart { number, octaves: octaves() },
        ("octave-shift", "up") => MarkKind::OctaveLineStart { number, octaves: -octaves() },
        ("octave-shift", "stop") => MarkKind::OctaveLineStop { number },
        ("pedal", "start" | "sostenuto" | "resume") => MarkKind::PedalStart,
        ("pedal", "stop" | "discontinue") => MarkKind::PedalStop,
        ("dashes" | "bracket", "start") => MarkKind::LineStart { number },
        ("dashes" | "bracket", "stop") => MarkKind::LineStop { number },
        _ => return None,
    })
}

/// Tempo words without the brackets that stood around their metronome mark.
fn tempo_words(words: &str) -> &str {
    if !words.contains(char::is_alphanumeric) {
        return "";
    }
    let mut words = words.trim();
    for around in ["( )", "[ ]", "()", "[]"] {
        words = words.strip_suffix(around).unwrap_or(words).trim_end();
    }
    words.trim_end_matches(['(', '[', '=', ' ']).trim_start_matches([')', ']', '=', ' '])
}

/// The mark's own position where it has one, the direction's else.
fn merged(outer: Position, own: Position) -> Position {
    Position { x: own.x.or(outer.x), y: own.y.or(outer.y), dx: own.dx + outer.dx, dy: own.dy + outer.dy }
}
