//! Reads one part, bar after bar; keeps what holds on from bar to bar.

use roxmltree::Node;

use super::cursor::{Cursor, Ticks};
use super::draft::{LocalStaff, Music};
use super::error::{ReadErrorKind, Trouble};
use super::oddities::Oddity;
use super::xml;
use crate::score::{Cell, Clef, Event, Key, Metre, StaffMark, Transposition};
use crate::units::Fraction;

mod attributes;
mod barline;
mod direction;
mod notations;
mod note;
mod print;

/// What holds on a staff until it is changed.
#[derive(Clone, Copy, Debug, Default)]
struct StaffState {
    clef: Clef,
    key: Key,
    transposition: Transposition,
    slashes: bool,
    repeats: bool,
}

/// One bar of one staff while it is read. The lists are used again for the next bar.
#[derive(Debug, Default)]
struct OpenCell {
    events: Vec<Event>,
    marks: Vec<StaffMark>,
    clef_changes: Vec<(Fraction, Clef)>,
    /// In force when the bar began.
    start: StaffState,
    key_changes: bool,
}

/// The note that a chord member joins.
#[derive(Clone, Copy, Debug)]
struct Last {
    onset: Fraction,
    length: Fraction,
    staff: u16,
    index: usize,
}

/// A part while it is read.
pub(super) struct PartReader {
    index: u16,
    /// For messages.
    name: String,
    pub columns: Vec<Vec<Cell>>,
    pub note_elements: u64,
    /// How many of them stand before the bar at hand.
    notes_before: u64,
    /// Direction elements of the bar at hand so far.
    directions: u32,
    staves: Vec<StaffState>,
    open: Vec<OpenCell>,
    declared_staves: u16,
    has_divisions: bool,
    cursor: Cursor,
    last: Option<Last>,
    /// Furthest place that the bar's notes reach.
    reach: Fraction,
    metre_length: Option<Fraction>,
    /// A metre that stood inside a bar, with whether it is printed: it counts from the next bar.
    next_metre: Option<(Option<Metre>, bool)>,
    /// Length of figures that stand before the next note.
    figures: Fraction,
    bar: usize,
    label: String,
}

impl PartReader {
    pub fn new(index: u16, name: &str) -> PartReader {
        PartReader {
            index,
            name: name.to_owned(),
            columns: vec![Vec::new()],
            note_elements: 0,
            notes_before: 0,
            directions: 0,
            staves: vec![StaffState::default()],
            open: vec![OpenCell::default()],
            declared_staves: 1,
            has_divisions: false,
            cursor: Cursor::new(),
            last: None,
            reach: Fraction::ZERO,
            metre_length: None,
            next_metre: None,
            figures: Fraction::ZERO,
            bar: 0,
            label: String::new(),
        }
    }

    /// Number of bars read so far.
    pub fn bars(&self) -> usize {
        self.columns.first().map_or(0, Vec::len)
    }

    /// Reads bar `index`; `head` bears its number and width, `content` its music (one element in partwise files).
    pub fn read_bar(
        &mut self,
        index: usize,
        head: Node<'_, '_>,
        content: Node<'_, '_>,
        music: &mut Music,
    ) -> Result<(), Trouble> {
        self.skip_to(index, music)?;
        self.start_bar(index, head, music)?;
        for (name, node) in xml::elements(content) {
            music.count_item(node)?;
            match name {
                "note" => self.note(node, music)?,
                "backup" | "forward" => self.step(name, node, music)?,
                "attributes" => self.attributes(node, music)?,
                "direction" => self.direction(node, music)?,
                "print" => self.print(node, music),
                "barline" => self.barline(node, music)?,
                "harmony" => self.chord_symbol(node, music)?,
                "figured-bass" => self.figured_bass(node, music)?,
                "sound" => self.sound(node, music)?,
                other => music.oddities.unread(other),
            }
        }
        self.finish_bar(head, music)
    }

    /// Fills bars that the part leaves out with silence.
    fn skip_to(&mut self, index: usize, music: &mut Music) -> Result<(), Trouble> {
        while self.bars() < index {
            music.count_cells(self.columns.len())?;
            for (column, state) in self.columns.iter_mut().zip(&self.staves) {
                column.push(silent_cell(state));
            }
        }
        Ok(())
    }

    fn start_bar(&mut self, index: usize, head: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let (mut label, mut shown, mut width, mut uncounted) = ("", None, None, false);
        for attribute in head.attributes() {
            let value = attribute.value();
            match attribute.name() {
                "number" => label = value,
                "text" if !value.is_empty() => shown = Some(value),
                "implicit" => uncounted = value == "yes",
                "width" => width = xml::finite(value),
                _ => {}
            }
        }
        let label = shown.unwrap_or(label).trim();
        let tenth = music.tenth;
        let is_new = index >= music.bars.len();
        let bar = music.bar(index).map_err(|kind| Trouble { at: None, kind })?;
        if is_new {
            label.clone_into(&mut bar.bar.label);
            bar.bar.uncounted = uncounted;
        }
        let differs = bar.bar.label != label;
        if bar.record.width.is_none()
            && let (Some(tenth), Some(width)) = (tenth, width)
        {
            bar.record.width = (width > 0.0).then(|| tenth * width);
        }
        if let Some(metre) = &bar.metre {
            self.metre_length = metre.as_ref().map(|metre| metre.length);
        }
        label.clone_into(&mut self.label);
        if differs {
            let name = &self.name;
            music.odd(Oddity::LabelsDiffer, head, || format!("bar {label} of {name}"));
        }
        self.bar = index;
        self.cursor.start_bar();
        self.notes_before = self.note_elements;
        self.directions = 0;
        self.last = None;
        self.reach = Fraction::ZERO;
        self.figures = Fraction::ZERO;
        for (open, state) in self.open.iter_mut().zip(&self.staves) {
            open.start = *state;
            open.key_changes = false;
        }
        if let Some((metre, printed)) = self.next_metre.take() {
            self.set_metre(metre, printed, head, music)?;
        }
        Ok(())
    }

    fn finish_bar(&mut self, head: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        music.count_cells(self.columns.len())?;
        let (reach, bar, metre) = (self.reach, self.bar, self.metre_length);
        let draft = music.bar(bar)?;
        draft.bar.length = draft.bar.length.max(reach);
        if metre.is_some_and(|metre| reach > metre) {
            let place = self.describe();
            music.odd(Oddity::Overfull, head, || place);
        }
        for ((column, state), open) in self.columns.iter_mut().zip(&mut self.staves).zip(&mut self.open) {
            column.push(open.close(state));
        }
        Ok(())
    }

    /// `backup` and `forward`.
    fn step(&mut self, name: &str, node: Node<'_, '_>, music: &mut Music) -> Result<(), Trouble> {
        let mut ticks = Ticks::Whole(0);
        for (child, inner) in xml::elements(node) {
            match child {
                "duration" => ticks = self.duration(inner, music)?,
                "voice" | "staff" => {}
                other => music.oddities.unread(other),
            }
        }
        self.last = None;
        let overflow = || music.trouble(node, ReadErrorKind::Overflow);
        if name == "forward" {
            self.cursor.advance(ticks).ok_or_else(overflow)?;
            return self.reached(node, music);
        }
        if self.cursor.back(ticks).ok_or_else(overflow)? {
            let place = self.describe();
            music.odd(Oddity::BackupBelowStart, node, || place);
        }
        Ok(())
    }

    /// The text of a `duration` element.
    fn duration(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<Ticks, Trouble> {
        let text = xml::text(node);
        let ticks =
            Ticks::parse(text).ok_or_else(|| music.trouble(node, ReadErrorKind::Duration { found: excerpt(text) }))?;
        if !self.has_divisions {
            let place = self.describe();
            music.odd(Oddity::NoDivisions, node, || place);
        }
        Ok(ticks)
    }

    /// Notes that the bar is filled up to here.
    fn reached(&mut self, node: Node<'_, '_>, music: &Music) -> Result<(), Trouble> {
        self.reach = self.reach.max(self.now(node, music)?);
        Ok(())
    }

    fn now(&self, node: Node<'_, '_>, music: &Music) -> Result<Fraction, Trouble> {
        self.cursor.now().ok_or_else(|| music.trouble(node, ReadErrorKind::Overflow))
    }

    /// Where something with an offset of its own stands; never before the bar.
    fn now_with(&mut self, offset: Option<&str>, node: Node<'_, '_>, music: &Music) -> Result<Fraction, Trouble> {
        let now = self.now(node, music)?;
        let Some(offset) = offset else { return Ok(now) };
        let back = offset.starts_with('-');
        let Some(ticks) = Ticks::parse(offset.trim_start_matches('-')) else { return Ok(now) };
        let moved =
            self.cursor.length(ticks).and_then(|by| if back { now.checked_sub(by) } else { now.checked_add(by) });
        moved.map(|onset| onset.max(Fraction::ZERO)).ok_or_else(|| music.trouble(node, ReadErrorKind::Overflow))
    }

    /// The staff that a `staff` element names, from 0; made when it is new.
    fn staff_number(&mut self, node: Node<'_, '_>, music: &mut Music) -> Result<u16, Trouble> {
        let number = xml::whole::<u16>(node).unwrap_or(1).max(1);
        if number > self.declared_staves {
            let place = self.describe();
            music.odd(Oddity::StaffNotDeclared, node, || place);
        }
        self.grow_to(number, music).map_err(|kind| music.trouble(node, kind))?;
        Ok(number - 1)
    }

    /// Makes sure that the part has this many staves.
    fn grow_to(&mut self, staves: u16, music: &mut Music) -> Result<(), ReadErrorKind> {
        let limit = music.limits.staves_per_part;
        if usize::from(staves) > limit {
            return Err(ReadErrorKind::TooMany { what: "staves in a part", limit });
        }
        let bars = self.bars();
        while self.columns.len() < usize::from(staves) {
            music.count_cells(bars + 1)?;
            let state = StaffState::default();
            self.columns.push(std::iter::repeat_with(|| silent_cell(&state)).take(bars).collect());
            self.staves.push(state);
            self.open.push(OpenCell { start: state, ..OpenCell::default() });
        }
        Ok(())
    }

    fn open_cell(&mut self, staff: u16) -> Option<&mut OpenCell> {
        self.open.get_mut(usize::from(staff))
    }

    fn local(&self, staff: u16) -> LocalStaff {
        LocalStaff { part: self.index, number: staff }
    }

    /// "bar 7 of Oboe".
    fn describe(&self) -> String {
        format!("bar {} of {}", self.label, self.name)
    }
}

impl OpenCell {
    /// The finished cell; leaves the lists empty and the staff's state as the bar leaves it.
    fn close(&mut self, state: &mut StaffState) -> Cell {
        if !self.events.is_sorted_by_key(|event| event.onset) {
            self.events.sort_by_key(|event| event.onset);
        }
        if !self.marks.is_sorted_by_key(|mark| mark.onset) {
            self.marks.sort_by_key(|mark| mark.onset);
        }
        self.clef_changes.sort_by_key(|(onset, _)| *onset);
        if let Some((_, clef)) = self.clef_changes.last() {
            state.clef = *clef;
        }
        Cell {
            // Collected, not taken: each list gets exactly the room it needs.
            events: self.events.drain(..).collect(),
            marks: self.marks.drain(..).collect(),
            clef_changes: self.clef_changes.drain(..).collect(),
            key_changes: self.key_changes,
            repeats_previous: self.start.repeats,
            slashes: self.start.slashes,
            ..silent_cell(&self.start)
        }
    }
}

/// Nothing but what holds on.
fn silent_cell(state: &StaffState) -> Cell {
    Cell { clef: state.clef, key: state.key, transposition: state.transposition, ..Cell::default() }
}

/// The beginning of a text from the file, short enough for a message.
fn excerpt(text: &str) -> String {
    text.chars().take(40).collect()
}
