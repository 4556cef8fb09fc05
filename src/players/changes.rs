//! What a player has to change between two notes, and the time there is for it.

use super::clock::{Clock, Moment};
use super::end_to_end::{Change, ChangeKind};
use super::turning::ends_movement;
use super::{Player, words};
use crate::place::BarIdx;
use crate::score::{EventKind, MarkKind, Score};
use crate::units::Fraction;

/// Every change that the words of the part ask for, in order. What is asked for again without being undone is asked
/// once.
#[must_use]
pub fn changes(player: &Player) -> Vec<Change> {
    let music = &player.music;
    let clock = Clock::of(music);
    let sounds = sounds(music, &clock);
    let mut changes: Vec<Change> = Vec::new();
    for (bar, onset, text) in all_words(music) {
        let Some(kind) = words::asks(text, player.hands) else { continue };
        if is_known(&changes, &kind) {
            continue;
        }
        let place = clock.at(bar, onset);
        let next = sounds.partition_point(|sound| sound.start.at < place.at || sound.start.bar < bar);
        let before = sounds.get(..next).unwrap_or_default().iter().max_by(|a, b| a.end.at.0.total_cmp(&b.end.at.0));
        let after = sounds.get(next);
        let seconds = match (before, after) {
            (Some(before), Some(after)) if !is_parted(music, before, after) => clock.between(before.end, after.start),
            _ => None,
        };
        changes.push(Change {
            kind,
            words: text.to_owned(),
            bar,
            seconds,
            from: before.map(|sound| sound.start.bar),
            to: after.map(|sound| sound.start.bar),
        });
    }
    changes
}

/// Whether a movement ends between two sounds, and the next waits for everybody.
fn is_parted(music: &Score, before: &Sound, after: &Sound) -> bool {
    let last = music.movements.iter().map(|movement| movement.bars.last);
    last.filter(|last| before.start.bar <= *last && *last < after.start.bar).any(|last| ends_movement(music, last))
}

/// Whether the last word on the matter said the same.
fn is_known(changes: &[Change], kind: &ChangeKind) -> bool {
    let same_matter = |other: &&Change| matter(&other.kind) == matter(kind);
    match changes.iter().rev().find(same_matter) {
        Some(last) => last.kind == *kind && !matches!(kind, ChangeKind::Mallets | ChangeKind::Retuning),
        // Nothing to take off at the beginning, and bows are in the hands.
        None => matches!(kind, ChangeKind::MuteOff | ChangeKind::Arco),
    }
}

fn matter(kind: &ChangeKind) -> u8 {
    match kind {
        ChangeKind::Instrument(_) => 0,
        ChangeKind::MuteOn | ChangeKind::MuteOff => 1,
        ChangeKind::Mallets => 2,
        ChangeKind::Pizzicato | ChangeKind::Arco => 3,
        ChangeKind::Retuning => 4,
    }
}

struct Sound {
    start: Moment,
    end: Moment,
}

/// In order of their beginnings.
fn sounds(music: &Score, clock: &Clock) -> Vec<Sound> {
    let staves = music.staves.len().max(1);
    let mut sounds = Vec::new();
    for (at, cell) in music.cells.iter().enumerate() {
        let bar = BarIdx((at / staves) as u32);
        for event in &cell.events {
            if matches!(event.kind, EventKind::Chord(_)) && !event.cue {
                let ends = event.onset.checked_add(event.length).unwrap_or(event.onset);
                sounds.push(Sound { start: clock.at(bar, event.onset), end: clock.at(bar, ends) });
            }
        }
    }
    sounds.sort_by(|a, b| {
        (a.start.bar, a.start.at.0).partial_cmp(&(b.start.bar, b.start.at.0)).unwrap_or(std::cmp::Ordering::Equal)
    });
    sounds
}

fn all_words(music: &Score) -> impl Iterator<Item = (BarIdx, Fraction, &str)> {
    let staves = music.staves.len().max(1);
    music.cells.iter().enumerate().flat_map(move |(at, cell)| {
        cell.marks.iter().filter_map(move |mark| match &mark.kind {
            MarkKind::Words(text) => Some((BarIdx((at / staves) as u32), mark.onset, text.as_str())),
            _ => None,
        })
    })
}
