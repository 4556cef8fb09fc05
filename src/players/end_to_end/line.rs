//! A player's own line, bar by bar.

use super::everyone::loudness;
use super::{BarLevel, Passage};
use crate::place::{BarIdx, BarSpan};
use crate::players::Player;
use crate::players::clock::Clock;
use crate::score::{EventKind, MarkKind, Pitch};
use crate::units::Fraction;

/// What a player does in each bar.
pub(super) struct Line {
    pub bars: Vec<OwnBar>,
}

#[derive(Clone, Copy, Debug, Default)]
pub(super) struct OwnBar {
    pub sounds: bool,
    pub cue: bool,
    /// Of the first note, and its highest head.
    pub first: Option<(Fraction, Option<Pitch>)>,
    pub level: BarLevel,
    /// In force at its first note.
    pub loudness: Option<i8>,
}

impl Line {
    pub fn of(player: &Player) -> Line {
        let music = &player.music;
        let staves = music.staves.len().max(1);
        let mut force = None;
        let mut bars = Vec::with_capacity(music.bars.len());
        for cells in music.cells.chunks(staves) {
            let mut own = OwnBar { level: BarLevel { loudness: force, range: None }, ..OwnBar::default() };
            for cell in cells {
                own.sounds |= cell.sounds();
                for mark in &cell.marks {
                    if let MarkKind::Dynamic(text) = &mark.kind {
                        force = loudness(text).or(force);
                        if mark.onset.is_zero() {
                            own.level.loudness = force;
                        }
                    }
                }
                for event in &cell.events {
                    let EventKind::Chord(notes) = &event.kind else { continue };
                    own.cue |= event.cue;
                    if event.cue {
                        continue;
                    }
                    let top = notes.last().filter(|note| !note.unpitched).map(|note| note.pitch);
                    if own.first.is_none_or(|(onset, _)| event.onset < onset) {
                        own.first = Some((event.onset, top));
                    }
                    for pitch in notes.iter().filter(|note| !note.unpitched).map(|note| note.pitch) {
                        own.level.range = Some(match own.level.range {
                            Some((low, high)) => (lower(low, pitch), higher(high, pitch)),
                            None => (pitch, pitch),
                        });
                    }
                }
            }
            own.loudness = force;
            bars.push(own);
        }
        Line { bars }
    }

    pub fn at(&self, bar: BarIdx) -> OwnBar {
        self.bars.get(bar.at()).copied().unwrap_or_default()
    }

    /// Neighbouring bars that sound, or that do not.
    pub fn runs(&self) -> Vec<(bool, BarSpan)> {
        let mut runs: Vec<(bool, BarSpan)> = Vec::new();
        for (at, own) in self.bars.iter().enumerate() {
            let bar = BarIdx(at as u32);
            match runs.last_mut() {
                Some((sounds, span)) if *sounds == own.sounds => span.last = bar,
                _ => runs.push((own.sounds, BarSpan::one(bar))),
            }
        }
        runs
    }

    pub fn passages(&self, clock: &Clock) -> Vec<Passage> {
        let start = clock.at(BarIdx(0), Fraction::ZERO);
        let passage = |bars: BarSpan| Passage {
            bars,
            starts: clock.between(start, clock.at(bars.first, Fraction::ZERO)),
            seconds: clock.between(clock.at(bars.first, Fraction::ZERO), clock.end_of(bars.last)),
            levels: bars.iter().map(|bar| self.at(bar).level).collect(),
        };
        self.runs().into_iter().filter(|(sounds, _)| *sounds).map(|(_, bars)| passage(bars)).collect()
    }
}

fn lower(one: Pitch, other: Pitch) -> Pitch {
    if (other.steps(), other.alter) < (one.steps(), one.alter) { other } else { one }
}

fn higher(one: Pitch, other: Pitch) -> Pitch {
    if (other.steps(), other.alter) > (one.steps(), one.alter) { other } else { one }
}
