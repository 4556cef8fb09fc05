//! What the conductor meets just after a turn.

use super::dynamics::{Levels, level};
use super::timeline::metre_recurs;
use super::{AfterTurn, AfterTurnKind, Opening};
use crate::place::{BarIdx, PartId};
use crate::score::{Bar, EventKind, MarkKind, Score, SystemMark, SystemMarkKind};
use crate::units::{Fraction, Seconds};

/// How long after the turn the eye is still finding its way (from memory).
const FINDING: Seconds = Seconds(3.0);
/// A part that was silent for so many bars enters anew (from memory).
const SILENCE: u32 = 8;
/// Parts that sound in a bar where an entry stands nearly alone.
const NEARLY_ALONE: usize = 2;
/// From p to ff or back.
const JUMP: u8 = 4;
/// A swell that was led up to so many bars before is not sudden.
const LED_UP: u32 = 8;

/// Fills in what follows each turn; the first opening is there before the music begins.
pub(super) fn fill_in(score: &Score, openings: &mut [Opening]) {
    let mut levels = Levels::new(score);
    let mut silence = Silence::new(score);
    let mut passed = 0;
    for (nth, opening) in openings.iter_mut().enumerate() {
        let Some(bars) = opening.bars else { continue };
        while passed < bars.first.0 {
            levels.pass(score, BarIdx(passed));
            silence.pass(score, BarIdx(passed));
            passed += 1;
        }
        if nth == 0 {
            continue;
        }
        let mut found = Vec::new();
        let mut ahead = silence.clone();
        let mut since = Seconds::ZERO;
        for bar in bars.iter() {
            let Some(contents) = score.bar(bar) else { break };
            if since >= FINDING {
                break;
            }
            let clock = Clock { bar, contents, since };
            found.extend(metre(score, &clock));
            found.extend(marks(score, &clock));
            found.extend(pauses(score, &clock));
            found.extend(entry(score, &clock, &ahead));
            found.extend(jump(score, &clock, &levels));
            ahead.pass(score, bar);
            let Some(seconds) = contents.seconds else { break };
            since += seconds;
        }
        found.retain(|found| found.seconds < FINDING);
        found.sort_by(|a, b| a.seconds.0.total_cmp(&b.seconds.0).then(a.kind.cmp(&b.kind)));
        found.dedup_by(|next, kept| next.kind == kept.kind && next.bar == kept.bar);
        opening.after_turn = found;
    }
}

/// A bar and when it begins after the turn.
struct Clock<'a> {
    bar: BarIdx,
    contents: &'a Bar,
    since: Seconds,
}

impl Clock<'_> {
    fn meets(&self, kind: AfterTurnKind, onset: Fraction, what: impl Into<String>) -> AfterTurn {
        let (length, seconds) = (self.contents.length.to_f64(), self.contents.seconds.unwrap_or_default());
        let share = if length > 0.0 { (onset.to_f64() / length).clamp(0.0, 1.0) } else { 0.0 };
        AfterTurn { kind, bar: self.bar, seconds: self.since + seconds * share, what: what.into() }
    }
}

fn metre(score: &Score, clock: &Clock) -> Option<AfterTurn> {
    let metre = clock.contents.metre.as_ref().filter(|_| clock.contents.metre_changes)?;
    let is_new = !metre_recurs(score, clock.bar);
    is_new.then(|| clock.meets(AfterTurnKind::NewMetre, Fraction::ZERO, &*metre.text))
}

fn marks(score: &Score, clock: &Clock) -> Vec<AfterTurn> {
    let from = score.marks.partition_point(|mark| mark.bar < clock.bar);
    let own = score.marks.iter().skip(from).take_while(|mark| mark.bar == clock.bar);
    own.filter_map(|mark| match &mark.kind {
        SystemMarkKind::Tempo { .. } => {
            tempo_words(mark).map(|words| clock.meets(AfterTurnKind::NewTempo, mark.onset, words))
        }
        SystemMarkKind::GeneralPause => Some(clock.meets(AfterTurnKind::GeneralPause, mark.onset, "G.P.")),
        _ => None,
    })
    .collect()
}

/// A printed tempo as it reads; `None` for playback alone.
pub(super) fn tempo_words(mark: &SystemMark) -> Option<String> {
    let SystemMarkKind::Tempo { words, metronome, .. } = &mark.kind else { return None };
    if mark.over.is_empty() {
        return None;
    }
    let words = words.trim();
    match metronome {
        // Some files hide a tempo in brackets without a word.
        _ if words.contains(char::is_alphanumeric) => Some(words.to_owned()),
        Some(count) => Some(format!("{} = {}", beat_name(count.beat), count.per_minute)),
        None => None,
    }
}

fn beat_name(beat: Fraction) -> String {
    let names = [((4, 1), "whole"), ((2, 1), "half"), ((3, 1), "dotted half"), ((1, 1), "quarter")];
    let short = [((3, 2), "dotted quarter"), ((1, 2), "eighth"), ((3, 4), "dotted eighth"), ((1, 4), "sixteenth")];
    let known = names.iter().chain(&short).find(|((num, den), _)| (beat.num(), beat.den()) == (*num, *den));
    known.map_or_else(|| format!("{beat} of a quarter"), |(_, name)| (*name).to_owned())
}

fn pauses(score: &Score, clock: &Clock) -> Vec<AfterTurn> {
    let mut found = Vec::new();
    let cells = cells(score, clock.bar);
    let held = cells.iter().flat_map(|cell| &cell.events).filter(|event| event.fermata).map(|event| event.onset).min();
    if let Some(onset) = held {
        found.push(clock.meets(AfterTurnKind::Fermata, onset, "fermata"));
    } else if clock.contents.right.fermata {
        found.push(clock.meets(AfterTurnKind::Fermata, clock.contents.length, "fermata on the barline"));
    }
    let silent = |bar: BarIdx| self::cells(score, bar).iter().all(|cell| !cell.sounds());
    let movement = score.movement_of(clock.bar).map(|movement| movement.bars);
    let inside = movement.is_some_and(|bars| bars.first < clock.bar && clock.bar < bars.last);
    if inside && silent(clock.bar) && !silent(BarIdx(clock.bar.0 - 1)) {
        found.push(clock.meets(AfterTurnKind::GeneralPause, Fraction::ZERO, "silence of all"));
    }
    found
}

/// Parts that enter after long silence while hardly anyone else plays.
fn entry(score: &Score, clock: &Clock, silence: &Silence) -> Option<AfterTurn> {
    let sounding = sounding_parts(score, clock.bar);
    if sounding.len() > NEARLY_ALONE {
        return None;
    }
    let entering: Vec<PartId> = sounding.into_iter().filter(|part| silence.of(*part) >= SILENCE).collect();
    let names: Vec<&str> =
        entering.iter().filter_map(|part| score.parts.get(part.at())).map(|p| p.name.trim()).collect();
    let first = entering.iter().filter_map(|part| first_note(score, clock.bar, *part)).min()?;
    let what = match names.iter().all(|name| name.is_empty()) {
        true => "an entry nearly alone".to_owned(),
        false => format!("entry of {} nearly alone", names.join(" and ")),
    };
    Some(clock.meets(AfterTurnKind::ExposedEntry, first, what))
}

fn first_note(score: &Score, bar: BarIdx, part: PartId) -> Option<Fraction> {
    let cells = score.staves_of(part).filter_map(|staff| score.cell(bar, staff));
    let notes = cells.flat_map(|cell| &cell.events).filter(|event| matches!(event.kind, EventKind::Chord(_)));
    notes.map(|event| event.onset).min()
}

/// Most who play turn suddenly loud or soft.
fn jump(score: &Score, clock: &Clock, levels: &Levels) -> Option<AfterTurn> {
    let mut playing = 0;
    let mut jumps: Vec<(Fraction, &str)> = Vec::new();
    for (cell, told) in cells(score, clock.bar).iter().zip(&levels.0) {
        if !cell.sounds() {
            continue;
        }
        playing += 1;
        let led_up = told.moved.is_some_and(|moved| clock.bar.0.saturating_sub(moved.0) <= LED_UP);
        let first = cell.marks.iter().find_map(|mark| match &mark.kind {
            MarkKind::Dynamic(text) => level(text).map(|level| (mark.onset, text.as_str(), level)),
            _ => None,
        });
        let Some(((onset, text, new), old)) = first.zip(told.level).filter(|_| !led_up) else { continue };
        if new.abs_diff(old) >= JUMP {
            jumps.push((onset, text));
        }
    }
    if jumps.len() < 3 || jumps.len() * 2 < playing {
        return None;
    }
    let (onset, text) = *jumps.iter().min()?;
    Some(clock.meets(AfterTurnKind::ExposedEntry, onset, format!("suddenly {text}")))
}

fn cells(score: &Score, bar: BarIdx) -> &[crate::score::Cell] {
    let staves = score.staves.len();
    score.cells.get(bar.at() * staves..(bar.at() + 1) * staves).unwrap_or_default()
}

fn sounding_parts(score: &Score, bar: BarIdx) -> Vec<PartId> {
    let staves = score.staves.iter().zip(cells(score, bar));
    let mut parts: Vec<PartId> = staves.filter(|(_, cell)| cell.sounds()).map(|(staff, _)| staff.part).collect();
    parts.dedup();
    parts
}

/// For how many bars each part has been silent.
#[derive(Clone)]
struct Silence(Vec<u32>);

impl Silence {
    fn new(score: &Score) -> Silence {
        Silence(vec![0; score.parts.len()])
    }

    fn of(&self, part: PartId) -> u32 {
        self.0.get(part.at()).copied().unwrap_or(0)
    }

    fn pass(&mut self, score: &Score, bar: BarIdx) {
        self.0.iter_mut().for_each(|bars| *bars += 1);
        for part in sounding_parts(score, bar) {
            if let Some(bars) = self.0.get_mut(part.at()) {
                *bars = 0;
            }
        }
    }
}
