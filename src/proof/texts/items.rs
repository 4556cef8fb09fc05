//! What is to be compared of text and landmarks, one by one.

use super::super::side::{Both, Side};
use super::super::words::length;
use super::{at, printed};
use crate::players::is_who_plays;
use crate::score::{EventKind, MarkKind, SystemMarkKind};
use crate::units::Fraction;

/// Something that stands at a place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Item {
    /// As the side counts its bars.
    pub bar: usize,
    /// Where it takes effect: that of the next note where it stands under a rest.
    pub onset: Fraction,
    /// Where the file has it.
    pub written: Fraction,
    pub kind: Kind,
    pub text: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    Rehearsal,
    Tempo,
    /// The metronome mark of a tempo.
    Count,
    TempoMoves,
    GeneralPause,
    Jump,
    Words,
    Dynamic,
}

impl Item {
    /// As it is read: "mark C", "\"con sord.\"", "quarter = 120".
    pub fn words(&self) -> String {
        match self.kind {
            Kind::Rehearsal => format!("mark {}", self.text),
            Kind::Dynamic | Kind::Count => self.text.clone(),
            Kind::GeneralPause => "general pause".to_owned(),
            _ => format!("\"{}\"", self.text),
        }
    }
}

/// Marks of the staff in one bar, each once.
pub(super) fn staff(side: &Side<'_>, at: usize, kind: Kind, text: impl Fn(&MarkKind) -> Option<String>) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    for mark in side.cells(at).iter().flat_map(|cell| &cell.marks) {
        let Some(text) = text(&mark.kind) else { continue };
        let onset = effective(side, at, mark.onset);
        let item = Item { bar: at, onset, written: mark.onset, kind, text };
        if !items.iter().any(|own| (own.onset, &own.text) == (item.onset, &item.text)) {
            items.push(item);
        }
    }
    items.sort_by(|a, b| (a.onset, &a.text).cmp(&(b.onset, &b.text)));
    items
}

/// Under a rest a mark belongs to the next note, but never over the barline. Common practice.
pub(super) fn effective(side: &Side<'_>, at: usize, onset: Fraction) -> Fraction {
    let Some(heard) = side.heard.get(at) else { return onset };
    let end = |note: &super::super::heard::HeardNote| note.onset.checked_add(note.length);
    if heard.notes.iter().any(|note| note.onset <= onset && end(note).is_some_and(|end| end > onset)) {
        return onset;
    }
    let rests = heard.events.iter().any(|(event, _)| matches!(event.kind, EventKind::Rest { .. }));
    let next = heard.notes.iter().map(|note| note.onset).find(|next| *next >= onset);
    next.filter(|_| rests || !heard.notes.is_empty()).unwrap_or(onset)
}

/// What concerns everybody, each once a bar, and the words at the player's own staves.
pub(super) fn overhead_and_words(both: &Both<'_>, side: &Side<'_>) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    for mark in printed(side) {
        let Some(bar) = at(side, mark.bar) else { continue };
        let mut add = |kind, text: &str| {
            // Over the strings once more, a little later: still one.
            if !items.iter().any(|own| own.bar == bar && own.kind == kind && own.text == text) {
                items.push(Item { bar, onset: mark.onset, written: mark.onset, kind, text: text.to_owned() });
            }
        };
        match &mark.kind {
            SystemMarkKind::Rehearsal(text) => add(Kind::Rehearsal, text),
            SystemMarkKind::Tempo { words, metronome, .. } => {
                if !words.is_empty() {
                    add(Kind::Tempo, words);
                }
                if let Some(mark) = metronome {
                    add(Kind::Count, &format!("{} = {}", length(mark.beat), mark.per_minute));
                }
            }
            SystemMarkKind::TempoMoves(text) => add(Kind::TempoMoves, text),
            SystemMarkKind::GeneralPause => add(Kind::GeneralPause, ""),
            SystemMarkKind::Jump(text) => add(Kind::Jump, text),
        }
    }
    let shared = both.player.number.is_some();
    let words = |kind: &MarkKind| match kind {
        MarkKind::Words(text) if !(shared && is_who_plays(text)) => Some(text.clone()),
        _ => None,
    };
    for bar in 0..side.count() {
        items.extend(staff(side, bar, Kind::Words, words));
    }
    items.sort_by_key(|item| (item.bar, item.onset, item.kind));
    items
}
