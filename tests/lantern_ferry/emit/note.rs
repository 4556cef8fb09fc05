//! One voice of one bar: notes, chords and rests.

use super::xml::Xml;
use crate::notation::{Drawn, draw, transposition};
use crate::orchestra::Part;
use crate::pitch::{Pitch, Transposition};
use crate::score::{Item, Kind, Mark, Movement};

const VALUES: [&str; 6] = ["whole", "half", "quarter", "eighth", "16th", "32nd"];
/// Order in which flats are added to a key, by step (C is 0); sharps come the other way round.
const FLATS: [i32; 7] = [6, 2, 5, 1, 4, 0, 3];

/// A bar's rest, with a pause sign in a general pause.
pub fn silent_bar(units: u32, general_pause: bool) -> Item {
    let marks = if general_pause { vec![Mark::Fermata] } else { Vec::new() };
    Item { kind: Kind::BarRest, units, value: 0, dots: 0, tuplet: None, marks, tied: false, octave_line: 0 }
}

pub struct Voice<'a> {
    part: &'a Part,
    staff: usize,
    number: usize,
    by: Transposition,
    key: i32,
    drawn: Vec<Drawn>,
    /// Sounding pitches that the last note ties over.
    tied: Vec<Pitch>,
    /// Accidentals of this bar: written step counted through all octaves, alteration.
    seen: Vec<(i32, i32)>,
}

impl<'a> Voice<'a> {
    pub fn new(
        movement: &Movement,
        bar: usize,
        part: &'a Part,
        staff: usize,
        (number, of): (usize, usize),
        tied: Vec<Pitch>,
        items: &[Item],
    ) -> Voice<'a> {
        let by = transposition(movement, bar, part.first);
        let drawn = draw(items, part.first + staff, by, movement.head(bar), (of > 1).then_some(number));
        Voice { part, staff, number, by, key: movement.key + by.key_change(), drawn, tied, seen: Vec::new() }
    }

    pub fn into_ties(self) -> Vec<Pitch> {
        self.tied
    }

    pub fn note(&mut self, xml: &mut Xml, place: usize, item: &Item) {
        match &item.kind {
            Kind::Notes(pitches) => {
                for (head, &pitch) in pitches.iter().enumerate() {
                    self.head(xml, place, item, pitch, head);
                }
                self.tied = if item.tied { pitches.clone() } else { Vec::new() };
            }
            kind => {
                xml.open("note", &[]);
                xml.empty("rest", if *kind == Kind::BarRest { &[("measure", "yes")] } else { &[] });
                xml.leaf("duration", item.units);
                self.value(xml, item, *kind != Kind::BarRest, None);
                self.staff(xml);
                self.notations(xml, item, (0, false));
                xml.close();
                self.tied = Vec::new();
            }
        }
    }

    fn head(&mut self, xml: &mut Xml, place: usize, item: &Item, pitch: Pitch, head: usize) {
        let tie_ends = self.tied.contains(&pitch);
        xml.open("note", &[]);
        if item.units == 0 {
            xml.empty("grace", &[("slash", "yes")]);
        }
        if item.marks.contains(&Mark::Cue) {
            xml.empty("cue", &[]);
        }
        if head > 0 {
            xml.empty("chord", &[]);
        }
        let written = pitch.written(self.by);
        let instrument = self.part.unpitched.iter().find(|(_, _, place)| *place == pitch.name());
        let prefix = if self.part.unpitched.is_empty() { "" } else { "display-" };
        xml.open(if prefix.is_empty() { "pitch" } else { "unpitched" }, &[]);
        xml.leaf(&format!("{prefix}step"), written.letter());
        if written.alter != 0 {
            xml.leaf("alter", written.alter);
        }
        xml.leaf(&format!("{prefix}octave"), written.octave);
        xml.close();
        if item.units > 0 {
            xml.leaf("duration", item.units);
        }
        if tie_ends {
            xml.empty("tie", &[("type", "stop")]);
        }
        if item.tied {
            xml.empty("tie", &[("type", "start")]);
        }
        if let Some((id, _, _)) = instrument {
            xml.empty("instrument", &[("id", id)]);
        }
        let accidental = if tie_ends || !prefix.is_empty() { None } else { self.accidental(written) };
        self.value(xml, item, true, accidental);
        if let Some(up) = self.drawn[place].stem_up {
            xml.leaf("stem", if up { "up" } else { "down" });
        }
        self.staff(xml);
        if head == 0 {
            for (level, word) in &self.drawn[place].beams {
                xml.leaf_with("beam", &[("number", &level.to_string())], word);
            }
        }
        self.notations(xml, item, (head, tie_ends));
        xml.close();
    }

    fn value(&self, xml: &mut Xml, item: &Item, with_type: bool, accidental: Option<&str>) {
        let voice = self.number + 1 + 4 * self.staff;
        xml.leaf("voice", voice);
        if with_type {
            xml.leaf("type", VALUES[item.value as usize]);
        }
        for _ in 0..item.dots {
            xml.empty("dot", &[]);
        }
        if let Some(accidental) = accidental {
            xml.leaf("accidental", accidental);
        }
        if let Some(tuplet) = item.tuplet {
            xml.open("time-modification", &[]);
            xml.leaf("actual-notes", tuplet.actual);
            xml.leaf("normal-notes", tuplet.normal);
            xml.close();
        }
    }

    fn staff(&self, xml: &mut Xml) {
        if self.part.clefs.len() > 1 {
            xml.leaf("staff", self.staff + 1);
        }
    }

    fn notations(&self, xml: &mut Xml, item: &Item, (head, tie_ends): (usize, bool)) {
        let tuplet = item.tuplet.filter(|tuplet| head == 0 && (tuplet.starts || tuplet.stops));
        let arpeggio = item.marks.contains(&Mark::Arpeggio);
        let marked = head == 0 && item.marks.iter().any(|mark| *mark != Mark::Cue);
        if !(item.tied || tie_ends || tuplet.is_some() || marked || arpeggio) {
            return;
        }
        xml.open("notations", &[]);
        if tie_ends {
            xml.empty("tied", &[("type", "stop")]);
        }
        if item.tied {
            xml.empty("tied", &[("type", "start")]);
        }
        if let Some(tuplet) = tuplet {
            for (here, kind) in [(tuplet.starts, "start"), (tuplet.stops, "stop")] {
                if here {
                    xml.empty("tuplet", &[("type", kind)]);
                }
            }
        }
        if head == 0 {
            item.marks.iter().for_each(|&mark| self.mark(xml, mark));
        }
        if arpeggio {
            xml.empty("arpeggiate", &[]);
        }
        xml.close();
    }

    fn mark(&self, xml: &mut Xml, mark: Mark) {
        let number = (self.number + 1).to_string();
        let mut inside = |outer, inner: &str| {
            xml.open(outer, &[]);
            xml.empty(inner, &[]);
            xml.close();
        };
        match mark {
            Mark::Accent => inside("articulations", "accent"),
            Mark::Staccato => inside("articulations", "staccato"),
            Mark::Tenuto => inside("articulations", "tenuto"),
            Mark::Marcato => inside("articulations", "strong-accent"),
            Mark::Trill => inside("ornaments", "trill-mark"),
            Mark::SlurStart => xml.empty("slur", &[("number", &number), ("type", "start")]),
            Mark::SlurStop => xml.empty("slur", &[("number", &number), ("type", "stop")]),
            Mark::Fermata => xml.empty("fermata", &[("type", "upright")]),
            Mark::Tremolo(strokes) => {
                xml.open("ornaments", &[]);
                xml.leaf_with("tremolo", &[("type", "single")], strokes);
                xml.close();
            }
            Mark::Arpeggio | Mark::Cue => {}
        }
    }

    /// The sign this head needs after the key signature and what the bar has brought so far.
    fn accidental(&mut self, written: Pitch) -> Option<&'static str> {
        let order = FLATS.iter().position(|&step| step == written.step).map_or(7, |at| at as i32);
        let by_key = i32::from(self.key > 6 - order) - i32::from(-self.key > order);
        let place = written.steps();
        let before = self.seen.iter().rev().find(|(seen, _)| *seen == place).map_or(by_key, |(_, alter)| *alter);
        if before == written.alter {
            return None;
        }
        self.seen.push((place, written.alter));
        Some(match written.alter {
            -2 => "flat-flat",
            -1 => "flat",
            0 => "natural",
            1 => "sharp",
            _ => "double-sharp",
        })
    }
}
