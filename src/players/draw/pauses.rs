//! A fermata over any staff holds up everybody: who rests then has it over the rest. Common practice.

use crate::players::Player;
use crate::score::{Event, EventKind, NoteValue, Score};
use crate::units::Fraction;

/// Bar by bar, where the last fermata stands over whichever staff, and how long the bar is.
pub(super) fn pauses(score: &Score) -> Vec<Option<(Fraction, Fraction)>> {
    let staves = score.staves.len().max(1);
    let rows = score.cells.chunks(staves).zip(&score.bars);
    rows.map(|(cells, bar)| {
        let events = cells.iter().flat_map(|cell| &cell.events);
        let at = events.filter(|event| event.fermata).map(|event| event.onset).max()?;
        Some((at, bar.length))
    })
    .collect()
}

/// Puts them over the player's rests, in bars in which the player does nothing else and has none.
pub(super) fn share(pauses: &[Option<(Fraction, Fraction)>], player: &mut Player) {
    let staves = player.music.staves.len().max(1);
    for (cells, pause) in player.music.cells.chunks_mut(staves).zip(pauses) {
        let Some((at, length)) = *pause else { continue };
        let is_silent = cells.iter().all(|cell| cell.is_silent());
        let has_one = cells.iter().flat_map(|cell| &cell.events).any(|event| event.fermata);
        let Some(cell) = cells.first_mut().filter(|_| is_silent && !has_one) else { continue };
        match cell.events.iter_mut().rev().find(|event| event.onset <= at) {
            Some(rest) => rest.fermata = true,
            None => {
                let kind = EventKind::Rest { whole_bar: true };
                let rest = Event::new(Fraction::ZERO, length, NoteValue::default(), kind);
                cell.events.insert(0, Event { fermata: true, ..rest });
            }
        }
    }
}
