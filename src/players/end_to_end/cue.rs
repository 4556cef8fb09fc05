//! Where a cue could come from: somebody who is heard, moves, begins clearly and plays up to the bar before the entry.

use std::cmp::Reverse;

use super::CueFrom;
use super::everyone::Everyone;
use super::line::{LineBar, notes_of, played};
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::players::Player;
use crate::score::{Cell, Event, Pitch};

/// A cue of fewer bars is hardly heard in time, a longer one costs room (common practice: two to four).
const BARS: [u32; 3] = [2, 3, 4];
/// So many attacks are a figure, not a held note.
const MOVES: usize = 3;

/// The best cue for an entry after a silence; `None` where nobody plays what could be one.
pub(super) fn before(entry: BarIdx, silence: BarSpan, player: &Player, around: &Everyone) -> Option<CueFrom> {
    let own = around.parts_of(player);
    let last = BarIdx(entry.0.checked_sub(1)?);
    let firsts: Vec<BarIdx> = BARS.iter().filter_map(|count| entry.0.checked_sub(*count)).map(BarIdx).collect();
    let spans = firsts.iter().filter(|first| silence.contains(**first)).map(|first| BarSpan::new(*first, last));
    let spans: Vec<BarSpan> = spans.collect();
    let parts = (0..around.score.parts.len()).filter_map(|at| u16::try_from(at).ok()).map(PartId);
    let others = parts.filter(|part| !own.contains(part));
    let candidates =
        others.flat_map(|part| spans.iter().filter_map(move |bars| Candidate::new(part, *bars, player, around)));
    let by_worth = |found: &Candidate| (found.worth, found.sounding.quarter_tones(), Reverse(found.part));
    let best = candidates.max_by_key(by_worth)?;
    let reader = player.music.cell(entry, StaffId(0)).map(|cell| (cell.transposition, cell.key)).unwrap_or_default();
    Some(CueFrom {
        part: best.part,
        name: around.score.parts.get(best.part.at()).map(|part| part.name.clone()).unwrap_or_default(),
        bars: best.bars,
        sounding: best.sounding,
        written: reader.0.written(best.sounding, reader.1),
    })
}

struct Candidate {
    part: PartId,
    bars: BarSpan,
    sounding: Pitch,
    worth: u32,
}

impl Candidate {
    /// `None` where the part rests in one of the bars, starts in the middle of a note, holds still, or is covered.
    fn new(part: PartId, bars: BarSpan, player: &Player, around: &Everyone) -> Option<Candidate> {
        let all_sound = bars.iter().all(|bar| around.line_bar(part, bar).is_some_and(|bar| bar.sounds));
        if !all_sound {
            return None;
        }
        let staves: Vec<StaffId> = around.score.staves_of(part).collect();
        let (cell, begins) = first_attack(around, bars.first, &staves)?;
        let top = notes_of(begins).iter().rev().find(|note| !note.unpitched && !note.tie_stops)?;
        let events = bars.iter().flat_map(|bar| staves.iter().filter_map(move |staff| around.score.cell(bar, *staff)));
        let mut pitches: Vec<Pitch> = events
            .flat_map(played)
            .filter_map(|event| notes_of(event).last())
            .filter(|note| !note.unpitched && !note.tie_stops)
            .map(|note| note.pitch)
            .collect();
        let attacks = pitches.len();
        pitches.sort_unstable();
        pitches.dedup();
        if attacks < MOVES || pitches.len() < 2 {
            return None;
        }
        let alone = bars.iter().all(|bar| around.others_sounding(player, bar) == 1);
        let loudest = is_loudest(part, bars, around);
        if !alone && !loudest {
            return None;
        }
        let before = bars.first.0.checked_sub(1).map(BarIdx);
        let enters = before.and_then(|bar| around.line_bar(part, bar)).is_none_or(|bar| !bar.sounds);
        let same_family = around.score.parts.get(part.at()).is_some_and(|part| part.family == player.family);
        let worth = 8 * u32::from(alone)
            + 4 * u32::from(enters)
            + 2 * u32::from(begins.onset.is_zero())
            + u32::from(same_family)
            + u32::from(pitches.len() >= 4);
        Some(Candidate { part, bars, sounding: cell.transposition.sounding(top.pitch), worth })
    }
}

/// The first note of a bar, if it begins there.
fn first_attack<'a>(around: &Everyone<'a>, bar: BarIdx, staves: &[StaffId]) -> Option<(&'a Cell, &'a Event)> {
    let score = around.score;
    let cells = staves.iter().filter_map(|staff| score.cell(bar, *staff));
    let events = cells.flat_map(|cell| played(cell).map(move |event| (cell, event)));
    let (cell, event) = events.min_by_key(|(_, event)| event.onset)?;
    notes_of(event).iter().any(|note| !note.tie_stops).then_some((cell, event))
}

/// No other part is told to play louder in any of the bars, and its own loudness is known.
fn is_loudest(part: PartId, bars: BarSpan, around: &Everyone) -> bool {
    bars.iter().all(|bar| {
        let level = |line: &[LineBar]| line.get(bar.at()).filter(|bar| bar.sounds).and_then(|bar| bar.at_first);
        let own = around.lines.get(part.at()).and_then(|line| level(line));
        own.is_some() && around.lines.iter().filter_map(|line| level(line)).max() == own
    })
}
