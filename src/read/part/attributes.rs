//! Divisions, keys, metres, clefs, staves, transposition, and signs that stand for whole bars.

use roxmltree::Node;

use super::{OpenCell, PartReader, StaffState, excerpt};
use crate::layout::{StaffRecord, StaffRole};
use crate::read::cursor::{Ticks, decimal};
use crate::read::draft::Music;
use crate::read::error::{ReadErrorKind, Trouble};
use crate::read::oddities::Oddity;
use crate::read::xml;
use crate::score::{Clef, ClefSign, Key, Metre, Transposition};
use crate::units::Fraction;

impl PartReader {
    pub(super) fn attributes(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let mut has_metre = false;
        // The number of staves stands behind keys that hold for all of them.
        for (_, child) in xml::elements(node).filter(|(name, _)| *name == "staves") {
            self.staves(child, music)?;
        }
        for (name, child) in xml::elements(node) {
            match name {
                "staves" => {}
                "divisions" => self.divisions(child, music)?,
                "key" => self.key(child, music)?,
                // A metre for single staves only would be a second one beside the first.
                "time" if has_metre => {}
                "time" => {
                    has_metre = true;
                    self.metre(child, music)?;
                }
                "clef" => self.clef(child, music)?,
                "transpose" => self.transpose(child, music),
                "staff-details" => self.staff_details(child, music)?,
                "measure-style" => self.bar_style(child, music)?,
                "part-symbol" | "instruments" => {}
                other => music.oddities.unread(other),
            }
        }
        Ok(())
    }

    fn staves(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let staves = xml::whole::<u16>(node).unwrap_or_else(|| {
            let place = self.describe();
            music.odd(Oddity::BadNumber, node, || place);
            1
        });
        self.grow_to(staves, music).map_err(|kind| music.trouble(node, kind))?;
        self.declared_staves = self.declared_staves.max(staves);
        Ok(())
    }

    fn divisions(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let text = xml::text(node);
        let divisions = match Ticks::parse(text) {
            Some(Ticks::Whole(divisions)) => divisions,
            Some(Ticks::Decimal(divisions)) if divisions.den() == 1 => divisions.num(),
            _ => 0,
        };
        if divisions == 0 {
            return Err(music.trouble(node, ReadErrorKind::Divisions { found: excerpt(text) }));
        }
        self.has_divisions = true;
        self.cursor.set_divisions(divisions).ok_or_else(|| music.trouble(node, ReadErrorKind::Overflow))
    }

    fn key(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let mut key = Key::default();
        for (name, child) in xml::elements(node) {
            match name {
                "fifths" => key.fifths = xml::whole::<i8>(child).unwrap_or(0).clamp(-21, 21),
                "mode" | "cancel" => {}
                other => music.oddities.unread(other),
            }
        }
        let at_start = self.now(node, music)?.is_zero();
        // In the first bar the key belongs to the system's start: nothing changes.
        let printed = self.bar > 0 && node.attribute("print-object") != Some("no");
        self.each_staff(node, |state, open| {
            open.key_changes |= printed && state.key != key;
            state.key = key;
            if at_start {
                open.start.key = key;
            }
        });
        Ok(())
    }

    fn metre(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let Some(metre) = read_metre(node, music)? else {
            let place = self.describe();
            music.odd(Oddity::BadNumber, node, || place);
            return Ok(());
        };
        let printed = node.attribute("print-object") != Some("no");
        if self.now(node, music)?.is_zero() {
            return self.set_metre(metre, printed, node, music);
        }
        self.next_metre = Some((metre, printed));
        Ok(())
    }

    /// Sets the metre of this bar, or compares it with what another part has set.
    pub(super) fn set_metre(
        &mut self,
        metre: Option<Metre>,
        printed: bool,
        node: Node<'_, '_>,
        music: &mut Music,
    ) -> Result<(), Trouble> {
        let length = |metre: &Option<Metre>| metre.as_ref().map(|metre| metre.length);
        self.metre_length = length(&metre);
        let draft = music.bar(self.bar)?;
        draft.metre_printed |= printed;
        let differs = draft.metre.as_ref().is_some_and(|other| length(other) != length(&metre));
        draft.metre.get_or_insert(metre);
        if differs {
            let place = self.describe();
            music.odd(Oddity::MetresDiffer, node, || place);
        }
        Ok(())
    }

    fn clef(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let mut clef = Clef::default();
        let mut line = None;
        for (name, child) in xml::elements(node) {
            match name {
                "sign" => {
                    clef.sign = match xml::text(child) {
                        "G" => ClefSign::G,
                        "F" => ClefSign::F,
                        "C" => ClefSign::C,
                        "percussion" => ClefSign::Percussion,
                        "TAB" => ClefSign::Tablature,
                        _ => ClefSign::None,
                    }
                }
                "line" => line = xml::whole::<i8>(child).filter(|line| (1..=9).contains(line)),
                "clef-octave-change" => clef.octave_change = xml::whole::<i8>(child).unwrap_or(0).clamp(-4, 4),
                other => music.oddities.unread(other),
            }
        }
        clef.line = line.unwrap_or(match clef.sign {
            ClefSign::F => 4,
            ClefSign::C | ClefSign::Percussion => 3,
            _ => 2,
        });
        let number = node.attribute("number").and_then(|number| number.parse::<u16>().ok()).unwrap_or(1).max(1);
        self.grow_to(number, music).map_err(|kind| music.trouble(node, kind))?;
        let onset = self.now(node, music)?;
        let first_bar = self.bar == 0;
        let at = usize::from(number - 1);
        if let (Some(state), Some(open)) = (self.staves.get_mut(at), self.open.get_mut(at)) {
            let before = open.clef_changes.last().map_or(state.clef, |(_, clef)| *clef);
            if onset.is_zero() {
                open.start.clef = clef;
            }
            if onset.is_zero() && (first_bar || before == clef) {
                state.clef = clef;
            } else if before != clef {
                open.clef_changes.push((onset, clef));
            }
        }
        Ok(())
    }

    fn transpose(&mut self, node: Node<'_, '_>, music: &mut Music) {
        let mut transposition = Transposition::default();
        for (name, child) in xml::elements(node) {
            let value = xml::number(child).map_or(0, |value| value.clamp(-60.0, 60.0) as i8);
            match name {
                "diatonic" => transposition.diatonic = value,
                "chromatic" => transposition.chromatic = value,
                "octave-change" => transposition.octaves = value,
                other => music.oddities.unread(other),
            }
        }
        self.each_staff(node, |state, open| {
            state.transposition = transposition;
            open.start.transposition = transposition;
        });
    }

    fn staff_details(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let mut record =
            StaffRecord { shown: node.attribute("print-object").and_then(xml::yes_no), ..StaffRecord::default() };
        for (name, child) in xml::elements(node) {
            match name {
                "staff-lines" => record.lines = xml::whole::<u8>(child).filter(|lines| *lines <= 16),
                "staff-size" => {
                    record.scale =
                        xml::number(child).filter(|size| (1.0..=1000.0).contains(size)).map(|size| size / 100.0);
                }
                "staff-type" => {
                    record.role = match xml::text(child) {
                        "ossia" => Some(StaffRole::Ossia),
                        "cue" => Some(StaffRole::Cue),
                        _ => None,
                    }
                }
                other => music.oddities.unread(other),
            }
        }
        if record == StaffRecord::default() {
            return Ok(());
        }
        let number = node.attribute("number").and_then(|number| number.parse::<u16>().ok());
        if let Some(number) = number {
            self.grow_to(number, music).map_err(|kind| music.trouble(node, kind))?;
        }
        self.record_staves(number, record, music)
    }

    /// `measure-style`: multi-bar rests, bar-repeat signs, slashes.
    fn bar_style(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        for (name, child) in xml::elements(node) {
            let starts = child.attribute("type") == Some("start");
            match name {
                "multiple-rest" => {
                    let Some(bars) = xml::whole::<u32>(child).filter(|bars| *bars > 0) else { continue };
                    let rests = &mut music.bar(self.bar)?.multi_rests;
                    let agrees = rests.0 == 0 || rests.1 == bars;
                    *rests = (rests.0 + 1, if agrees { bars } else { 0 });
                }
                "measure-repeat" => self.each_staff(node, |state, open| {
                    state.repeats = starts;
                    open.start.repeats = starts;
                }),
                "slash" => self.each_staff(node, |state, open| {
                    state.slashes = starts;
                    open.start.slashes = starts;
                }),
                other => music.oddities.unread(other),
            }
        }
        Ok(())
    }

    /// Changes the staff that `node` names by its number, or all.
    fn each_staff(&mut self, node: Node<'_, '_>, mut change: impl FnMut(&mut StaffState, &mut OpenCell)) {
        let number = node.attribute("number").and_then(|number| number.parse::<usize>().ok());
        for (at, (state, open)) in self.staves.iter_mut().zip(&mut self.open).enumerate() {
            if number.is_none_or(|number| number == at + 1) {
                change(state, open);
            }
        }
    }
}

/// A `time` element: `Some(None)` is music without metre; `None` cannot be read.
fn read_metre(node: Node<'_, '_>, music: &mut Music) -> Result<Option<Option<Metre>>, Trouble> {
    let mut pairs: Vec<(&str, &str)> = Vec::new();
    let mut beats = "";
    let mut beside = None;
    for (name, child) in xml::elements(node) {
        match name {
            "beats" => beats = xml::text(child),
            "beat-type" => pairs.push((beats, xml::text(child))),
            "senza-misura" => return Ok(Some(None)),
            "interchangeable" => beside = interchangeable(child),
            other => music.oddities.unread(other),
        }
    }
    let mut length = Fraction::ZERO;
    let mut beat_value = 0;
    let mut text = String::new();
    for (beats, value) in pairs {
        let Some(value) = value.parse::<u32>().ok().filter(|value| (1..=1024).contains(value)) else { return Ok(None) };
        let Some(part) = pair_length(beats, value) else { return Ok(None) };
        let Some(sum) = length.checked_add(part) else { return Ok(None) };
        length = sum;
        beat_value = beat_value.max(value);
        if !text.is_empty() {
            text.push('+');
        }
        text.push_str(&format!("{beats}/{value}"));
    }
    if length <= Fraction::ZERO {
        return Ok(None);
    }
    match node.attribute("symbol") {
        Some("common") => text = "C".to_owned(),
        Some("cut") => text = "\u{a2}".to_owned(),
        _ => {}
    }
    if let Some(beside) = beside {
        text.push_str(&format!(" ({beside})"));
    }
    Ok(Some(Some(Metre { text, length, beat_value })))
}

/// "3+2" eighths in quarters.
fn pair_length(beats: &str, value: u32) -> Option<Fraction> {
    let mut sum = Fraction::ZERO;
    for beat in beats.split('+') {
        sum = sum.checked_add(decimal(beat.trim())?)?;
    }
    sum.checked_mul(Fraction::new(4, i64::from(value))?)
}

fn interchangeable(node: Node<'_, '_>) -> Option<String> {
    let find = |wanted: &str| xml::elements(node).find(|(name, _)| *name == wanted).map(|(_, child)| xml::text(child));
    Some(format!("{}/{}", find("beats")?, find("beat-type")?))
}
