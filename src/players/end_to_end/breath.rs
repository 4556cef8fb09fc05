//! The longest span under one slur or tie: what a wind player has to play in one breath as written.

use super::Breath;
use super::everyone::Everyone;
use crate::place::{BarIdx, BarSpan};
use crate::players::clock::{Clock, Moment};
use crate::players::{Hands, Player};
use crate::score::{Event, EventKind};

/// `None` for all but winds, and where nothing is slurred or tied.
pub(super) fn longest(player: &Player, clock: &Clock, everyone: &Everyone) -> Option<Breath> {
    if player.hands != Hands::Wind {
        return None;
    }
    let music = &player.music;
    let mut best: Option<(f64, BarSpan)> = None;
    let mut open: Option<Moment> = None;
    let mut depth = 0_u32;
    for (at, cell) in music.cells.iter().enumerate() {
        let bar = BarIdx((at / music.staves.len().max(1)) as u32);
        for event in cell.events.iter().filter(|event| !event.cue) {
            if !matches!(event.kind, EventKind::Chord(_)) {
                (open, depth) = (None, 0);
                continue;
            }
            let start = clock.at(bar, event.onset);
            let from = *open.get_or_insert(start);
            let end = clock.at(bar, event.onset.checked_add(event.length).unwrap_or(event.onset));
            depth = (depth + u32::from(event.slurs.starts)).saturating_sub(u32::from(event.slurs.stops));
            let is_joined = depth > 0 || ties_on(event);
            if from != start || is_joined {
                let seconds = clock.between(from, end).map_or(0.0, |seconds| seconds.0);
                if best.is_none_or(|(longest, _)| seconds > longest) {
                    best = Some((seconds, BarSpan::new(from.bar, bar)));
                }
            }
            if !is_joined {
                open = None;
            }
        }
    }
    let (seconds, bars) = best.filter(|(seconds, _)| *seconds > 0.0)?;
    let doubled = |part| {
        bars.iter().all(|bar| {
            let staff = music.staves.len();
            let first = music.cells.get(bar.at() * staff).and_then(|cell| cell.events.iter().find(|event| !event.cue));
            let notes = music.cells.get(bar.at() * staff).map_or(0, |cell| cell.events.len());
            let theirs = everyone.at(bar, part);
            theirs.onset == first.map(|event| event.onset) && usize::from(theirs.notes) == notes
        })
    };
    let shared = everyone.others(&player.staves).any(doubled);
    Some(Breath { bars, seconds: crate::units::Seconds(seconds), shared })
}

fn ties_on(event: &Event) -> bool {
    matches!(&event.kind, EventKind::Chord(notes) if notes.iter().any(|note| note.tie_starts))
}
