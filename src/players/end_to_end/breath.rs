//! The longest run of slurred or tied notes: where no place to breathe is written.

use std::collections::BTreeMap;

use super::Breath;
use super::everyone::Everyone;
use super::line::{end_of, notes_of, played};
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::players::{Hands, Player};
use crate::score::{Event, EventKind, Grace, MarkKind, Score};
use crate::units::{Fraction, Seconds};

type Place = (BarIdx, Fraction);

/// For winds; `None` for others, where nothing is slurred, and where no time is known.
pub(super) fn longest(player: &Player, around: &Everyone) -> Option<Breath> {
    if player.hands != Hands::Wind {
        return None;
    }
    let mut longest: Option<(Seconds, Place, Place)> = None;
    for (from, to) in spans(&player.music) {
        let Some(seconds) = around.clock.span_of(from, to) else { continue };
        if longest.is_none_or(|(known, ..)| seconds > known) {
            longest = Some((seconds, from, to));
        }
    }
    let (seconds, from, to) = longest?;
    let bars = BarSpan::new(from.0, to.0);
    Some(Breath { bars, seconds, shared: is_shared(player, bars, around) })
}

/// A voice on its way through the bars.
#[derive(Clone, Copy, Default)]
struct Voice {
    /// Slurs that are open.
    slurs: u32,
    tied: bool,
    /// Where the span began and how far it reaches; `None` outside.
    span: Option<(Place, Place)>,
}

/// Every span of notes joined by slurs or ties, from the first onset to the end of the last note. A slur over a rest, or
/// one that never ends, gives none: the player breathes in the rest.
fn spans(music: &Score) -> Vec<(Place, Place)> {
    let mut found = Vec::new();
    let mut voices: BTreeMap<(usize, u16), Voice> = BTreeMap::new();
    let staves = music.staves.len().max(1);
    for (at, cell) in music.cells.iter().enumerate() {
        let bar = BarIdx(u32::try_from(at / staves).unwrap_or(u32::MAX));
        if at % staves == 0 && music.movements.iter().any(|movement| movement.bars.first == bar) {
            voices.clear();
        }
        for event in cell.events.iter().filter(|event| !event.cue) {
            let voice = voices.entry((at % staves, event.voice)).or_default();
            found.extend(voice.pass(bar, event));
        }
    }
    found
}

impl Voice {
    /// Takes in an event; gives back the span that ends with it.
    fn pass(&mut self, bar: BarIdx, event: &Event) -> Option<(Place, Place)> {
        if matches!(event.kind, EventKind::Rest { .. }) {
            *self = Voice::default();
            return None;
        }
        if self.span.is_some_and(|(_, end)| !follows(end, (bar, event.onset))) {
            *self = Voice::default();
        }
        let end = (bar, end_of(event));
        let start = self.span.map_or((bar, event.onset), |(start, _)| start);
        let begun = u32::from(event.slurs.starts);
        // Both may stand at one note: the old slur ends, another leads on.
        self.slurs = self.slurs.saturating_sub(u32::from(event.slurs.stops)) + begun;
        if event.grace == Grace::No {
            self.tied = notes_of(event).iter().any(|note| note.tie_starts);
        }
        let was_joined = self.span.is_some();
        if self.slurs > 0 || self.tied {
            self.span = Some((start, end));
            return None;
        }
        self.span = None;
        was_joined.then_some((start, end))
    }
}

/// Whether a note begins where another ended, as far as bars and onsets tell: a voice may be left without rests.
fn follows(end: Place, start: Place) -> bool {
    let same_bar = end.0 == start.0 && start.1 <= end.1;
    same_bar || (end.0.0.checked_add(1) == Some(start.0.0) && start.1.is_zero())
}

/// Whether others play the same: two on one staff ("a2"), or another part note for note.
fn is_shared(player: &Player, bars: BarSpan, around: &Everyone) -> bool {
    let own = attacks(&player.music, &all_staves(&player.music), bars);
    let parts = around.parts_of(player);
    let same = |staves: &[StaffId]| attacks(around.score, staves, bars) == own;
    let a_two = player.number.is_some()
        && player
            .staves
            .iter()
            .any(|staff| same(&[*staff]) && last_words(around.score, *staff, bars.first).is_some_and(is_for_all));
    let mut others = (0..around.score.parts.len()).filter_map(|at| u16::try_from(at).ok()).map(PartId);
    a_two
        || others.any(|part| {
            let sounds = |bar| around.line_bar(part, bar).is_some_and(|bar| bar.sounds);
            !parts.contains(&part) && bars.iter().all(sounds) && same(&around.score.staves_of(part).collect::<Vec<_>>())
        })
}

fn all_staves(music: &Score) -> Vec<StaffId> {
    (0..music.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId).collect()
}

/// Onset and sounding height of all notes in some bars, in order.
fn attacks(score: &Score, staves: &[StaffId], bars: BarSpan) -> Vec<(BarIdx, Fraction, i32)> {
    let mut attacks = Vec::new();
    for bar in bars.iter() {
        for cell in staves.iter().filter_map(|staff| score.cell(bar, *staff)) {
            for event in played(cell) {
                let notes = notes_of(event).iter().filter(|note| !note.tie_stops);
                let heights = notes.map(|note| cell.transposition.sounding(note.pitch).quarter_tones());
                attacks.extend(heights.map(|height| (bar, event.onset, height)));
            }
        }
    }
    attacks.sort_unstable();
    attacks.dedup();
    attacks
}

/// The last words on a staff that tell who of two plays, up to a bar.
fn last_words(score: &Score, staff: StaffId, until: BarIdx) -> Option<&str> {
    let bars = (0..=until.0).rev().map(BarIdx);
    let mut words = bars.filter_map(|bar| score.cell(bar, staff)).flat_map(|cell| {
        cell.marks.iter().rev().filter_map(|mark| match &mark.kind {
            MarkKind::Words(text) => Some(text.trim()),
            _ => None,
        })
    });
    words.find(|text| {
        is_for_all(text)
            || text.starts_with(|letter: char| letter.is_ascii_digit())
            || text.to_lowercase().starts_with("solo")
    })
}

/// "a2", "a 2", "zu 2", "unis.".
fn is_for_all(text: &str) -> bool {
    let text = text.to_lowercase().replace([' ', '.'], "");
    ["a2", "\u{e0}2", "zu2", "unis", "a3", "\u{e0}3", "zu3"].iter().any(|word| text.starts_with(word))
}
