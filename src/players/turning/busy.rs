//! When a player's hands are busy.

use super::Frees;
use crate::place::BarIdx;
use crate::players::clock::{Clock, Moment};
use crate::players::{Hands, Player, words};
use crate::score::{Event, EventKind, MarkKind};
use crate::units::{Fraction, Seconds};

/// After a stroke or a pluck the hand is free within this time (from memory).
const STROKE: Seconds = Seconds(0.5);

/// When each staff of the player takes the hands.
pub(super) struct Busy {
    /// Of each staff, in order of their beginnings.
    staves: Vec<Vec<Stretch>>,
    /// Staves can be played with one hand each.
    by_hand: bool,
    solo: Vec<bool>,
}

#[derive(Clone, Copy)]
struct Stretch {
    start: Moment,
    /// End of the sound, and of the work for it.
    sound: Moment,
    hands: Moment,
}

/// What the hands do around one barline.
pub(super) struct AtBarline {
    pub silent_from: Option<Moment>,
    pub free_from: Option<Moment>,
    pub wanted_at: Option<Moment>,
    /// Nothing was played before, or will be after.
    pub nothing_before: bool,
    pub nothing_after: bool,
    pub frees: Frees,
}

impl Busy {
    pub fn of(player: &Player, clock: &Clock) -> Busy {
        let music = &player.music;
        let staves = music.staves.len();
        let mut busy = Busy {
            staves: vec![Vec::new(); staves],
            by_hand: staves > 1 && matches!(player.hands, Hands::Harp | Hands::Keyboard),
            solo: Vec::new(),
        };
        let (mut plucked, mut solo) = (vec![false; staves], false);
        for at in 0..music.bars.len() {
            let bar = BarIdx(at as u32);
            let mut any_solo = solo;
            for (staff, cell) in music.cells.get(at * staves..(at + 1) * staves).unwrap_or_default().iter().enumerate()
            {
                let mut marks = cell.marks.iter().peekable();
                for event in &cell.events {
                    while let Some(mark) = marks.next_if(|mark| mark.onset <= event.onset) {
                        heed(&mark.kind, plucked.get_mut(staff), &mut solo);
                        any_solo |= solo;
                    }
                    let is_plucked = plucked.get(staff).copied().unwrap_or_default();
                    let stretch = stretch(event, bar, player.hands, is_plucked, clock);
                    if let (Some(stretch), Some(row)) = (stretch, busy.staves.get_mut(staff)) {
                        row.push(stretch);
                    }
                }
                for mark in marks {
                    heed(&mark.kind, plucked.get_mut(staff), &mut solo);
                }
            }
            busy.solo.push(any_solo);
        }
        for row in &mut busy.staves {
            row.sort_by(|a, b| a.start.at.0.total_cmp(&b.start.at.0).then(a.start.bar.cmp(&b.start.bar)));
            // The latest end of all that began before, so that one look back is enough.
            let mut last: Option<Stretch> = None;
            for own in row.iter_mut() {
                if let Some(before) = last {
                    own.sound = later(own.sound, before.sound);
                    own.hands = later(own.hands, before.hands);
                }
                last = Some(*own);
            }
        }
        busy
    }

    pub fn is_solo(&self, bar: BarIdx) -> bool {
        self.solo.get(bar.at()).copied().unwrap_or_default()
    }

    pub fn at(&self, bar: BarIdx, barline: Moment, clock: &Clock) -> AtBarline {
        let rows: Vec<AtBarline> = self.staves.iter().map(|row| on_staff(row, bar, barline)).collect();
        let mut both = AtBarline {
            silent_from: latest(rows.iter().map(|row| row.silent_from)),
            free_from: latest(rows.iter().map(|row| row.free_from)),
            wanted_at: earliest(rows.iter().map(|row| row.wanted_at)),
            nothing_before: rows.iter().all(|row| row.nothing_before),
            nothing_after: rows.iter().all(|row| row.nothing_after),
            frees: Frees::Nothing,
        };
        both.frees = frees(&both, barline);
        if self.by_hand && both.frees != Frees::Rest {
            let longest =
                rows.into_iter().map(|row| (time(&row, barline, clock), row)).max_by(|a, b| a.0.0.total_cmp(&b.0.0));
            if let Some((free, row)) = longest
                && free > time(&both, barline, clock)
            {
                (both.free_from, both.wanted_at) = (row.free_from, row.wanted_at);
                (both.nothing_before, both.nothing_after) = (row.nothing_before, row.nothing_after);
                both.frees = Frees::OneHand;
            }
        }
        both
    }
}

const DIVIDES: [&str; 6] = ["div", "divisi", "divise", "divises", "geteilt", "get"];

/// Words that change what the hands do, until others do.
fn heed(kind: &MarkKind, plucked: Option<&mut bool>, solo: &mut bool) {
    let MarkKind::Words(text) = kind else { return };
    let folded = words::folded(text);
    let has = |wanted: &str| folded.split(' ').any(|word| word == wanted);
    if let Some(plucked) = plucked {
        *plucked = folded.contains("pizz") || *plucked && !has("arco");
    }
    // Where a desk is divided each of its players has a line that nobody else plays.
    let divides = DIVIDES.iter().any(|word| has(word)) && !has("non") && !has("nicht");
    if has("solo") || has("soli") || divides {
        *solo = true;
    } else if has("tutti")
        || has("unis")
        || has("unisono")
        || has("zusammen")
        || has("ensemble")
        || has("tutte")
        || has("non")
        || folded.contains("gli altri")
    {
        *solo = false;
    }
}

fn stretch(event: &Event, bar: BarIdx, hands: Hands, is_plucked: bool, clock: &Clock) -> Option<Stretch> {
    if !matches!(event.kind, EventKind::Chord(_)) || event.cue {
        return None;
    }
    let start = clock.at(bar, event.onset);
    let sound = clock.at(bar, event.onset.checked_add(event.length).unwrap_or(event.onset));
    let rolls = event.tremolo > 0 || event.tremolo_between || event.ornaments > 0;
    let rings_on = match hands {
        Hands::Percussion | Hands::Timpani | Hands::Harp => !rolls,
        Hands::Section | Hands::Bowed => is_plucked && !rolls,
        Hands::Voice => true,
        Hands::Wind | Hands::Keyboard | Hands::Unknown => false,
    };
    let stroke = Moment { bar: start.bar, at: (start.at + STROKE).min(sound.at) };
    let is_note = event.length > Fraction::ZERO;
    Some(Stretch { start, sound, hands: if rings_on && is_note { stroke } else { sound } })
}

fn on_staff(row: &[Stretch], bar: BarIdx, barline: Moment) -> AtBarline {
    let next = row.partition_point(|own| own.start.bar <= bar);
    let before = next.checked_sub(1).and_then(|last| row.get(last));
    let after = row.get(next);
    let mut at = AtBarline {
        silent_from: before.map(|own| own.sound),
        free_from: before.map(|own| own.hands),
        wanted_at: after.map(|own| own.start),
        nothing_before: before.is_none(),
        nothing_after: after.is_none(),
        frees: Frees::Nothing,
    };
    at.frees = frees(&at, barline);
    at
}

fn frees(at: &AtBarline, barline: Moment) -> Frees {
    let is_before = |moment: Option<Moment>| moment.is_none_or(|moment| moment.at < barline.at);
    let is_after = at.wanted_at.is_none_or(|moment| moment.at > barline.at);
    if is_before(at.silent_from) || is_after {
        Frees::Rest
    } else if is_before(at.free_from) {
        Frees::RingsOn
    } else {
        Frees::Nothing
    }
}

/// For comparing hands only.
fn time(at: &AtBarline, barline: Moment, clock: &Clock) -> Seconds {
    const LONG: Seconds = Seconds(1e6);
    let part = |from: Option<Moment>, to: Option<Moment>| match (from, to) {
        (Some(from), Some(to)) => clock.between(from, to).unwrap_or(Seconds::ZERO),
        _ => LONG,
    };
    part(at.free_from, Some(barline)) + part(Some(barline), at.wanted_at)
}

fn later(one: Moment, other: Moment) -> Moment {
    if other.at > one.at { other } else { one }
}

fn latest(moments: impl Iterator<Item = Option<Moment>>) -> Option<Moment> {
    moments.flatten().reduce(later)
}

fn earliest(moments: impl Iterator<Item = Option<Moment>>) -> Option<Moment> {
    moments.flatten().reduce(|one, other| if other.at < one.at { other } else { one })
}
