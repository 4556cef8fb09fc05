//! Wind parts that two players would have to read from.

use crate::guidelines::{Guidelines, Limit, Mismatch, Percent};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::{Cell, Event, EventKind, Family, Grace};

/// Notes that a wind player sounds at once, and in how much of the part there may be more all the same.
pub(in crate::rules) struct TwoPlayersOnOnePart {
    notes: Limit<u32>,
    share: Limit<Percent>,
}

impl Rule for TwoPlayersOnOnePart {
    const NAME: &'static str = "two-players-on-one-part";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| {
            Ok(TwoPlayersOnOnePart { notes: limits.take("notes")?, share: limits.take("share")? })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let is_wind = |family| matches!(family, Family::Woodwind | Family::Brass);
        let drawn = case.part.is_some_and(|part| part.player.number.is_some());
        if drawn || !case.score.parts.iter().all(|part| is_wind(part.family)) {
            return Outcome::Ran(Vec::new());
        }
        let staves = || (0..case.score.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
        let bars = (0..case.score.bars.len()).filter_map(|at| u32::try_from(at).ok()).map(BarIdx);
        let most_in = |bar: BarIdx| staves().filter_map(|staff| case.score.cell(bar, staff)).map(notes_at_once).max();
        let played: Vec<(BarIdx, usize)> =
            bars.filter_map(|bar| Some((bar, most_in(bar)?))).filter(|(_, notes)| *notes > 0).collect();
        let shared: Vec<(BarIdx, usize)> =
            played.iter().copied().filter(|(_, notes)| *notes > self.notes.value as usize).collect();
        let share = shared.len() as f64 / played.len().max(1) as f64 * 100.0;
        let Some((first, _)) = shared.first().filter(|_| share > self.share.value.0) else {
            return Outcome::Ran(Vec::new());
        };
        let message = format!(
            "two notes or more at once in {share:.0} % of the bars of a wind part, first at {}.",
            case.bar_words(*first)
        );
        let key = case.key(Self::NAME, Scope::Work, None, Some(*first));
        let finding = Finding::beyond(&self.share, key, format!("two notes at once in {share:.0} % of the bars"))
            .asks("one player's notes")
            .at(shared.iter().map(|(bar, _)| case.on_bars(BarSpan::one(*bar), &[])).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// Of chords and voices together; cues, grace notes and hidden notes are not counted.
fn notes_at_once(cell: &Cell) -> usize {
    let plays = |event: &&Event| event.printed && !event.cue && event.grace == Grace::No;
    let chords = || {
        cell.events.iter().filter(plays).filter_map(|event| match &event.kind {
            EventKind::Chord(notes) => Some((event.onset, event.onset.checked_add(event.length)?, notes.len())),
            EventKind::Rest { .. } => None,
        })
    };
    let at = |onset| chords().filter(|(start, end, _)| *start <= onset && onset < *end).map(|(.., notes)| notes).sum();
    chords().map(|(onset, ..)| at(onset)).max().unwrap_or(0)
}
