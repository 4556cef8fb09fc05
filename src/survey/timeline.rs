//! Who plays when: rows are players in score order, columns stretches between landmarks, width is time.

use std::collections::BTreeMap;

use super::after_turn::tempo_words;
use crate::place::{BarIdx, BarSpan, PartId};
use crate::score::{Score, SystemMarkKind};
use crate::units::Seconds;

/// The whole work along its time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Timeline {
    pub stretches: Vec<Stretch>,
    /// In order of time.
    pub landmarks: Vec<Landmark>,
    /// Per part in score order: the passages that it plays, joined over rests shorter than a bar.
    pub plays: Vec<(PartId, Vec<BarSpan>)>,
    /// Whether the time of every bar is known. Where it is not, a bar counts as long as the average bar (one second
    /// when no time is known at all), so that the picture keeps its order.
    pub timed: bool,
}

/// The music between two neighbouring landmarks.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    pub bars: BarSpan,
    /// From the beginning of the work, played straight through.
    pub starts: Seconds,
    pub seconds: Seconds,
}

/// What the ear or the eye finds its way by.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Landmark {
    pub bar: BarIdx,
    pub starts: Seconds,
    /// "C", when a rehearsal mark stands here.
    pub rehearsal: Option<String>,
    /// "Allegro", when a tempo word or mark stands here.
    pub tempo: Option<String>,
    /// "3/4", where a movement begins and when the metre changes.
    pub metre: Option<String>,
    /// A movement begins.
    pub movement: Option<String>,
}

/// Metre changes within so many bars on either side ...
const NEAR: u32 = 8;
/// ... make a change one of many, when they are at least so many.
const MANY: usize = 3;

/// Who plays when, and the landmarks of the work.
#[must_use]
pub fn timeline(score: &Score) -> Timeline {
    let (starts, timed) = starts(score);
    let at = |bar: u32| starts.get(bar as usize).copied().unwrap_or_default();
    let landmarks = landmarks(score, at);
    let mut stretches = Vec::with_capacity(landmarks.len());
    for (nth, landmark) in landmarks.iter().enumerate() {
        let next = landmarks.get(nth + 1).map_or(score.bars.len() as u32, |next| next.bar.0);
        let Some(last) = next.checked_sub(1) else { continue };
        let bars = BarSpan::new(landmark.bar, BarIdx(last));
        stretches.push(Stretch { bars, starts: landmark.starts, seconds: at(next) - landmark.starts });
    }
    Timeline { stretches, landmarks, plays: plays(score), timed }
}

/// When each bar begins, and the end of the last one.
fn starts(score: &Score) -> (Vec<Seconds>, bool) {
    let known: Vec<Seconds> = score.bars.iter().filter_map(|bar| bar.seconds).collect();
    let average = match known.len() {
        0 => Seconds(1.0),
        count => known.iter().copied().sum::<Seconds>() / count as f64,
    };
    let mut starts = Vec::with_capacity(score.bars.len() + 1);
    let mut now = Seconds::ZERO;
    for bar in &score.bars {
        starts.push(now);
        now += bar.seconds.unwrap_or(average);
    }
    starts.push(now);
    (starts, known.len() == score.bars.len())
}

/// One for each bar where a movement, a rehearsal mark, a tempo or a metre begins; the first bar always is one.
fn landmarks(score: &Score, starts: impl Fn(u32) -> Seconds) -> Vec<Landmark> {
    let mut by_bar: BTreeMap<BarIdx, Landmark> = BTreeMap::new();
    let mut at = |bar: BarIdx, set: &dyn Fn(&mut Landmark)| {
        let new = || Landmark { bar, starts: starts(bar.0), ..Landmark::default() };
        set(by_bar.entry(bar).or_insert_with(new));
    };
    let several = score.movements.len() > 1;
    for (nth, movement) in score.movements.iter().enumerate() {
        let title = movement.title.clone().or_else(|| several.then(|| (nth + 1).to_string()));
        at(movement.bars.first, &|landmark| landmark.movement.clone_from(&title));
    }
    for mark in &score.marks {
        match &mark.kind {
            SystemMarkKind::Rehearsal(text) => at(mark.bar, &|landmark| landmark.rehearsal = Some(text.clone())),
            SystemMarkKind::Tempo { .. } => {
                if let Some(words) = tempo_words(mark) {
                    at(mark.bar, &|landmark| landmark.tempo = Some(words.clone()));
                }
            }
            _ => {}
        }
    }
    for (bar, contents) in (0..).map(BarIdx).zip(&score.bars) {
        let begins = score.movements.iter().any(|movement| movement.bars.first == bar);
        let changes = contents.metre_changes && !metre_recurs(score, bar);
        if let Some(metre) = contents.metre.as_ref().filter(|_| begins || changes) {
            at(bar, &|landmark| landmark.metre = Some(metre.text.clone()));
        }
    }
    by_bar.into_values().collect()
}

/// Whether a change of metre is one of many around it, so that nobody is surprised by it.
pub(super) fn metre_recurs(score: &Score, bar: BarIdx) -> bool {
    let from = bar.0.saturating_sub(NEAR) as usize;
    let near = score.bars.iter().enumerate().skip(from).take_while(|(at, _)| *at <= bar.at() + NEAR as usize);
    near.filter(|(at, other)| *at != bar.at() && other.metre_changes).count() >= MANY
}

fn plays(score: &Score) -> Vec<(PartId, Vec<BarSpan>)> {
    let mut plays: Vec<(PartId, Vec<BarSpan>)> =
        (0..score.parts.len()).map(|part| (PartId(part as u16), Vec::new())).collect();
    let staves = score.staves.len().max(1);
    for (at, cell) in score.cells.iter().enumerate() {
        if !cell.sounds() {
            continue;
        }
        let bar = BarIdx((at / staves) as u32);
        let part = score.staves.get(at % staves).and_then(|staff| plays.get_mut(staff.part.at()));
        let Some((_, spans)) = part else { continue };
        match spans.last_mut() {
            Some(last) if bar.0 <= last.last.0 + 1 => last.last = bar,
            _ => spans.push(BarSpan::one(bar)),
        }
    }
    plays
}
