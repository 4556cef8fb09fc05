//! Entries after a long silence that ask for more than most.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::ColdEntry;
use super::everyone::Everyone;
use super::line::{LineBar, notes_of, played};
use crate::place::{BarIdx, StaffId};
use crate::players::Player;
use crate::score::{Pitch, Score};
use crate::units::{Fraction, Seconds};

/// So long without a note is cold (from memory).
const SILENT: Seconds = Seconds(60.0);
/// High is what lies in the highest tenth of all its notes ...
const TOP: u32 = 10;
/// ... of which there have to be enough to tell.
const ENOUGH: u32 = 40;
/// Loud from ff on, very soft from pp down.
const LOUD: i8 = 2;
const VERY_SOFT: i8 = -2;
/// Exposed with no more than so many other parts.
const FEW: usize = 2;
/// A player gets no more than so many.
const MOST: usize = 3;

/// Those of which two are so: high, very loud or very soft, exposed; longest silences first among equals.
pub(super) fn entries(player: &Player, own: &[LineBar], around: &Everyone) -> Vec<ColdEntry> {
    let heights = Heights::new(&player.music);
    let mut last = (BarIdx(0), Fraction::ZERO);
    let mut sounded = false;
    let mut found = Vec::new();
    for (bar, contents) in (0..).map(BarIdx).zip(own) {
        if contents.sounds && !sounded {
            let silent = around.clock.span_of(last, (bar, contents.first)).filter(|silent| *silent >= SILENT);
            found.extend(silent.and_then(|silent| cold(player, bar, contents, around, &heights, silent)));
        }
        if contents.sounds {
            last = (bar, contents.ends);
        }
        sounded = contents.sounds;
    }
    let reasons =
        |entry: &ColdEntry| u8::from(entry.high) + u8::from(entry.exposed) + u8::from(is_extreme(entry.loudness));
    found.sort_by(|one, other| {
        let by_reasons = Reverse(reasons(one)).cmp(&Reverse(reasons(other)));
        by_reasons.then(other.silent.0.total_cmp(&one.silent.0)).then(one.bar.cmp(&other.bar))
    });
    found.truncate(MOST);
    found
}

fn is_extreme(loudness: Option<i8>) -> bool {
    loudness.is_some_and(|level| !(VERY_SOFT + 1..LOUD).contains(&level))
}

fn cold(
    player: &Player,
    bar: BarIdx,
    contents: &LineBar,
    around: &Everyone,
    heights: &Heights,
    silent: Seconds,
) -> Option<ColdEntry> {
    let first = first_note(&player.music, bar, contents.first);
    let high = first.is_some_and(|(_, sounding)| heights.is_top(sounding));
    let others = around.score.parts.len() > FEW + 1;
    let exposed = others && around.others_sounding(player, bar) <= FEW;
    let reasons = [high, exposed, is_extreme(contents.at_first)].into_iter().filter(|is_so| *is_so).count();
    let first = first.map(|(written, _)| written);
    let entry = ColdEntry { bar, onset: contents.first, silent, first, loudness: contents.at_first, high, exposed };
    (reasons >= 2).then_some(entry)
}

/// The highest note at an onset: as written, and how high it sounds in quarter tones.
fn first_note(music: &Score, bar: BarIdx, onset: Fraction) -> Option<(Pitch, i32)> {
    let staves = (0..music.staves.len()).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
    let cells = staves.filter_map(|staff| music.cell(bar, staff));
    let notes = cells.flat_map(|cell| {
        let begins = played(cell).filter(move |event| event.onset == onset);
        begins
            .flat_map(notes_of)
            .filter(|note| !note.unpitched)
            .map(|note| (note.pitch, cell.transposition.sounding(note.pitch).quarter_tones()))
    });
    notes.max_by_key(|(written, sounding)| (*sounding, *written))
}

/// How many notes a line plays at each height.
struct Heights {
    counts: BTreeMap<i32, u32>,
    all: u32,
}

impl Heights {
    fn new(music: &Score) -> Heights {
        let mut heights = Heights { counts: BTreeMap::new(), all: 0 };
        for cell in &music.cells {
            for note in played(cell).flat_map(notes_of).filter(|note| !note.unpitched && !note.tie_stops) {
                let sounding = cell.transposition.sounding(note.pitch).quarter_tones();
                *heights.counts.entry(sounding).or_default() += 1;
                heights.all += 1;
            }
        }
        heights
    }

    /// Whether no more than a tenth of all notes are as high or higher.
    fn is_top(&self, sounding: i32) -> bool {
        let as_high: u32 = self.counts.range(sounding..).map(|(_, count)| *count).sum();
        self.all >= ENOUGH && as_high * TOP <= self.all
    }
}
