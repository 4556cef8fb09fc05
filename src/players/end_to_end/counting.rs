//! Which silences are hard to count, and why.
//!
//! Bars and seconds alone would name hundreds of rests in one symphony. What loses players is what happens inside
//! (metre, pauses, moving tempo) and how the entry stands (off the beat, alone, just before a landmark). The weights
//! are ours; they rank, no more.

use super::everyone::Everyone;
use super::line::{Line, OwnBar};
use super::{HardToCount, Silence};
use crate::place::{BarIdx, BarSpan};
use crate::players::Player;
use crate::players::clock::Clock;
use crate::score::{Score, SystemMarkKind};
use crate::units::{Fraction, Seconds};

/// At most so many a player, those that weigh most.
const FLAGS: usize = 3;
/// What weighs less is left alone.
const LEAST_WEIGHT: f64 = 6.0;
/// Shorter rests are felt, not counted (common practice).
const LEAST_BARS: u32 = 6;
/// 7 to 11 % of rests in open scores are as long as this in bars and in time.
const LONG: (u32, Seconds) = (16, Seconds(30.0));

/// Every silence of a bar or more, with ranks.
pub(super) fn silences(player: &Player, line: &Line, clock: &Clock, everyone: &Everyone) -> Vec<Silence> {
    let mut silences: Vec<Silence> = Vec::new();
    for (_, bars) in line.runs().into_iter().filter(|(sounds, _)| !sounds) {
        let seconds = clock.between(clock.at(bars.first, Fraction::ZERO), clock.end_of(bars.last));
        let entry = BarIdx(bars.last.0 + 1);
        let has_cue = led_in(bars, entry, line);
        let follows = entry.at() < line.bars.len();
        let hard = if follows && bars.count() >= LEAST_BARS {
            reasons(player, bars, entry, line.at(entry), seconds, everyone)
        } else {
            Vec::new()
        };
        silences.push(Silence { bars, seconds, hard, rank: None, has_cue, cue: None });
    }
    rank(&mut silences);
    silences
}

/// Whether a cue leads into the entry within the last bars.
fn led_in(bars: BarSpan, entry: BarIdx, line: &Line) -> bool {
    const FEW: u32 = 6;
    let from = bars.last.0.saturating_sub(FEW - 1).max(bars.first.0);
    (from..=entry.0).any(|bar| line.at(BarIdx(bar)).cue)
}

fn reasons(
    player: &Player,
    bars: BarSpan,
    entry: BarIdx,
    own: OwnBar,
    seconds: Option<Seconds>,
    everyone: &Everyone,
) -> Vec<HardToCount> {
    let music = &player.music;
    let mut hard = Vec::new();
    if bars.count() >= LONG.0 && seconds.is_none_or(|seconds| seconds >= LONG.1) {
        hard.push(HardToCount::Long);
    }
    let changes = bars.iter().filter(|bar| music.bar(*bar).is_some_and(|bar| bar.metre_changes)).count();
    // The first bar of a movement always shows its metre.
    let begins = music.movements.iter().filter(|movement| bars.contains(movement.bars.first)).count();
    if changes > begins {
        hard.push(HardToCount::MetreChanges((changes - begins).min(1000) as u16));
    }
    let staves = music.staves.len().max(1);
    let pauses = |bar: BarIdx| {
        let cells = music.cells.get(bar.at() * staves..(bar.at() + 1) * staves).unwrap_or_default();
        cells.iter().flat_map(|cell| &cell.events).any(|event| event.fermata)
            || music.bar(bar).is_some_and(|bar| bar.right.fermata)
    };
    if bars.iter().any(pauses) {
        hard.push(HardToCount::Fermata);
    }
    let inside = || music.marks.iter().filter(|mark| bars.contains(mark.bar));
    if inside().any(|mark| matches!(mark.kind, SystemMarkKind::TempoMoves(_))) {
        hard.push(HardToCount::TempoMoves);
    }
    if inside().any(|mark| mark.kind == SystemMarkKind::GeneralPause) {
        hard.push(HardToCount::GeneralPause);
    }
    if let Some((onset, _)) = own.first {
        if !is_on_a_beat(music, entry, onset) {
            hard.push(HardToCount::OffTheBeat);
        }
        let enters = |part| {
            let theirs = everyone.at(entry, part);
            theirs.onset == Some(onset)
        };
        if !everyone.others(&player.staves).any(enters) {
            hard.push(HardToCount::EntersAlone);
        }
    }
    if landmark_after(music, bars, entry) {
        hard.push(HardToCount::LandmarkAfter);
    }
    hard
}

fn is_on_a_beat(music: &Score, bar: BarIdx, onset: Fraction) -> bool {
    let Some(metre) = music.bar(bar).and_then(|bar| bar.metre.as_ref()) else { return true };
    let unit = 4.0 / f64::from(metre.beat_value.max(1));
    let units = metre.length.to_f64() / unit;
    // 6/8, 9/8, 12/8 are felt in threes (common practice).
    let in_threes = metre.beat_value >= 8 && units % 3.0 == 0.0 && units > 3.0;
    let beat = if in_threes { unit * 3.0 } else { unit };
    let at = onset.to_f64() / beat;
    (at - at.round()).abs() < 1e-6
}

/// No landmark within four bars before the entry, one in the two bars after it.
fn landmark_after(music: &Score, bars: BarSpan, entry: BarIdx) -> bool {
    let is_landmark = |kind: &SystemMarkKind| matches!(kind, SystemMarkKind::Rehearsal(_));
    let within = |from: u32, to: u32| {
        music.marks.iter().any(|mark| is_landmark(&mark.kind) && (from..=to).contains(&mark.bar.0))
    };
    within(entry.0 + 1, entry.0 + 2) && !within(entry.0.saturating_sub(4).max(bars.first.0), entry.0)
}

fn rank(silences: &mut [Silence]) {
    let weighed = silences.iter().enumerate().filter(|(_, silence)| !silence.has_cue);
    let mut weights: Vec<(f64, usize)> =
        weighed.map(|(at, silence)| (weight(silence), at)).filter(|(weight, _)| *weight >= LEAST_WEIGHT).collect();
    weights.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    for (rank, (_, at)) in (1..).zip(weights.into_iter().take(FLAGS)) {
        if let Some(silence) = silences.get_mut(at) {
            silence.rank = Some(rank);
        }
    }
}

fn weight(silence: &Silence) -> f64 {
    let of = |hard: &HardToCount| match hard {
        HardToCount::Long => 1.5,
        HardToCount::MetreChanges(many) => 2.0 * f64::from((*many).min(4)),
        HardToCount::Fermata | HardToCount::TempoMoves | HardToCount::GeneralPause => 2.0,
        HardToCount::OffTheBeat => 1.5,
        HardToCount::EntersAlone => 2.0,
        HardToCount::LandmarkAfter => 1.0,
    };
    silence.hard.iter().map(of).sum()
}
