//! One staff, several players: each one's line, as far as words, voices, chords and stems tell it (common practice).
//!
//! Words say who plays until other words do, or until the players have had lines of their own. Two voices are the
//! upper and the lower player; the notes of a chord go from the top down; single notes in a bar with such chords are
//! played by all. A voice that only rests says that its player does. Stems against the rule of the middle line tell a
//! player even without the other's rests. A single line without any of these does not tell.

use super::who::{self, Who};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::players::{Hands, Undecided, words};
use crate::score::{Cell, Event, EventKind, MarkKind, Score, StaffMark, Stem};
use crate::units::Fraction;

/// What a shared staff tells.
pub(super) struct Told {
    /// Of each player: one cell a bar.
    pub lines: Vec<Vec<Cell>>,
    pub undecided: Vec<Open>,
}

/// Bars that do not tell who plays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Open {
    bars: BarSpan,
    why: Why,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Why {
    OneLine,
    FewerNotes,
    Voices,
}

impl Open {
    pub fn named(self, staff: StaffId) -> Undecided {
        let why = match self.why {
            Why::OneLine => "one line, and neither words, stems nor rests say who plays it",
            Why::FewerNotes => "chords of fewer notes than players",
            Why::Voices => "other voices than players",
        };
        Undecided { bars: self.bars, staff, why: why.to_owned() }
    }
}

/// Draws the lines of the players whom words call by these numbers.
pub(super) fn tell(score: &Score, staff: StaffId, numbers: &[u32]) -> Told {
    let mut told = Told { lines: vec![Vec::with_capacity(score.bars.len()); numbers.len()], undecided: Vec::new() };
    let mut force: Option<Who> = None;
    let cells = score.cells.iter().skip(staff.at()).step_by(score.staves.len().max(1));
    for (at, cell) in cells.enumerate() {
        let bar = BarIdx(at as u32);
        let (masks, open) = divide(cell, numbers, &mut force);
        if let Some(why) = open {
            add(&mut told.undecided, bar, why);
        }
        let length = score.bars.get(at).map_or(Fraction::ZERO, |bar| bar.length);
        for (own, line) in told.lines.iter_mut().enumerate() {
            line.push(line_of(cell, own, &masks, numbers, length));
        }
    }
    told
}

fn add(undecided: &mut Vec<Open>, bar: BarIdx, why: Why) {
    match undecided.last_mut() {
        Some(last) if last.why == why && last.bars.last.0 + 1 == bar.0 => last.bars.last = bar,
        _ => undecided.push(Open { bars: BarSpan::one(bar), why }),
    }
}

/// Whose an event is.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Whose {
    All,
    /// Players counted from 0.
    Only(Vec<usize>),
    /// Its notes from the top down, one a player.
    EachNote,
}

/// One entry an event of the cell, and why the bar does not tell, if it does not.
fn divide(cell: &Cell, numbers: &[u32], force: &mut Option<Who>) -> (Vec<Whose>, Option<Why>) {
    let mut marks = cell.marks.iter().peekable();
    let voices = voices(cell);
    let sounding: Vec<u16> = voices.iter().filter(|voice| voice.sounds).map(|voice| voice.number).collect();
    let splits = sounding.len() >= 2 || cell.events.iter().any(|event| notes(event) >= 2);
    let mut open = None;
    let mut whose = Vec::with_capacity(cell.events.len());
    for event in &cell.events {
        while let Some(mark) = marks.next_if(|mark| mark.onset <= event.onset) {
            heed(mark, numbers, force);
        }
        whose.push(match of_voice(event, &voices, numbers.len()) {
            Some(own) => own,
            None if !sounds(event) => Whose::All,
            None => of_line(event, cell, numbers, force.as_ref(), splits, &mut open),
        });
    }
    for mark in marks {
        heed(mark, numbers, force);
    }
    if sounding.len() > numbers.len() {
        open = Some(Why::Voices);
    }
    // Lines of their own end what the words said; "a 2" with two voices was about something before.
    let outnumbered = |called: usize| cell.events.iter().any(|event| notes(event) > called);
    if splits && !matches!(force, Some(Who::Only(called)) if !outnumbered(called.len())) {
        *force = None;
    }
    (whose, open)
}

fn heed(mark: &StaffMark, numbers: &[u32], force: &mut Option<Who>) {
    if let MarkKind::Words(text) = &mark.kind
        && let Some(who) = who::says(text, numbers)
    {
        *force = Some(who);
    }
}

/// An event of a cell in which voices are players.
fn of_voice(event: &Event, voices: &[Voice], players: usize) -> Option<Whose> {
    if voices.len() != players || voices.len() < 2 {
        return None;
    }
    let at = voices.iter().position(|voice| voice.number == event.voice)?;
    Some(Whose::Only(vec![at]))
}

/// An event of a single line.
fn of_line(
    event: &Event,
    cell: &Cell,
    numbers: &[u32],
    force: Option<&Who>,
    splits: bool,
    open: &mut Option<Why>,
) -> Whose {
    let count = notes(event);
    if let Some(Who::Only(called)) = force {
        let own: Vec<usize> = called.iter().filter_map(|number| numbers.iter().position(|own| own == number)).collect();
        // More notes at once than the words name players: nobody blows two, so the words are over.
        if count <= own.len().max(1) {
            return Whose::Only(own);
        }
    }
    if count >= numbers.len() && count >= 2 {
        return Whose::EachNote;
    }
    if force == Some(&Who::All) && count == 1 {
        return Whose::All;
    }
    if count >= 2 {
        *open = Some(Why::FewerNotes);
        return Whose::All;
    }
    if splits {
        return Whose::All;
    }
    match by_stems(cell).filter(|_| numbers.len() == 2) {
        Some(player) => Whose::Only(vec![player]),
        None => {
            *open = Some(Why::OneLine);
            Whose::All
        }
    }
}

/// A line whose stems all point one way, and at least one of them against the rule: up is the upper player.
fn by_stems(cell: &Cell) -> Option<usize> {
    let mut ways = cell.events.iter().filter(|event| sounds(event)).map(|event| (event.stem, against(event, cell)));
    let (first, mut any_against) = ways.next()?;
    for (stem, against) in ways {
        if stem != first {
            return None;
        }
        any_against |= against;
    }
    match first {
        Stem::Up if any_against => Some(0),
        Stem::Down if any_against => Some(1),
        _ => None,
    }
}

/// Whether a single unbeamed note's stem is against the rule: up above the middle line, down below it.
fn against(event: &Event, cell: &Cell) -> bool {
    let EventKind::Chord(notes) = &event.kind else { return false };
    let middle = cell.clef_at(event.onset).middle_line_steps();
    let over = notes.first().map_or(0, |note| note.pitch.steps() - middle);
    event.beams == 0 && (event.stem == Stem::Up && over > 0 || event.stem == Stem::Down && over < 0)
}

struct Voice {
    number: u16,
    sounds: bool,
}

/// Voices that print anything, the upper first: by number, as stems up and down are numbered.
fn voices(cell: &Cell) -> Vec<Voice> {
    let mut voices: Vec<Voice> = Vec::new();
    for event in cell.events.iter().filter(|event| event.printed && !event.cue) {
        match voices.iter_mut().find(|voice| voice.number == event.voice) {
            Some(voice) => voice.sounds |= sounds(event),
            None => voices.push(Voice { number: event.voice, sounds: sounds(event) }),
        }
    }
    voices.sort_by_key(|voice| voice.number);
    voices
}

fn sounds(event: &Event) -> bool {
    matches!(event.kind, EventKind::Chord(_)) && !event.cue
}

fn notes(event: &Event) -> usize {
    match &event.kind {
        EventKind::Chord(notes) if !event.cue => notes.len(),
        _ => 0,
    }
}

/// The cell of one player: the own events, and the marks that concern whoever plays.
fn line_of(cell: &Cell, own: usize, whose: &[Whose], numbers: &[u32], length: Fraction) -> Cell {
    let events: Vec<Event> = cell
        .events
        .iter()
        .zip(whose)
        .filter_map(|(event, whose)| own_event(event, own, whose, numbers.len()))
        .collect();
    let plays = events.iter().any(sounds) || cell.repeats_previous || cell.slashes;
    let marks = cell.marks.iter().filter(|mark| concerns(mark, plays, numbers)).cloned().collect();
    let mut line = Cell {
        events,
        marks,
        clef: cell.clef,
        clef_changes: cell.clef_changes.clone(),
        key: cell.key,
        key_changes: cell.key_changes,
        transposition: cell.transposition,
        repeats_previous: cell.repeats_previous,
        slashes: cell.slashes,
        sketch: cell.sketch,
    };
    let has_fermata = line.events.iter().any(|event| event.fermata) || cell.events.iter().any(|event| event.fermata);
    if !plays && !line.events.iter().any(|event| event.cue) {
        let mut rest = Event::new(Fraction::ZERO, length, Default::default(), EventKind::Rest { whole_bar: true });
        rest.fermata = has_fermata;
        line.events = vec![rest];
    }
    line
}

fn own_event(event: &Event, own: usize, whose: &Whose, players: usize) -> Option<Event> {
    match whose {
        Whose::All => Some(event.clone()),
        Whose::Only(players) => players.contains(&own).then(|| event.clone()),
        Whose::EachNote => {
            let EventKind::Chord(notes) = &event.kind else { return Some(event.clone()) };
            // From the top down; where there are more notes than players the last one has the rest.
            let from_top = notes.iter().rev().enumerate();
            let mine =
                from_top.filter(|(at, _)| (*at).min(players.saturating_sub(1)) == own).map(|(_, note)| note.clone());
            let mut kept: Vec<_> = mine.collect();
            kept.reverse();
            Some(Event { kind: EventKind::Chord(kept), ..event.clone() })
        }
    }
}

/// Words that only say who plays are not for the part; the rest is for whoever plays, and what has to be made ready
/// is for all.
fn concerns(mark: &StaffMark, plays: bool, numbers: &[u32]) -> bool {
    match &mark.kind {
        MarkKind::Words(text) => match who::says(text, numbers) {
            Some(Who::All | Who::Divided) => false,
            Some(Who::Only(_)) => plays && text.to_lowercase().contains("solo"),
            None => plays || words::asks(text, Hands::Wind).is_some(),
        },
        MarkKind::HairpinStop { .. } | MarkKind::OctaveLineStop { .. } | MarkKind::LineStop { .. } => true,
        _ => plays,
    }
}
