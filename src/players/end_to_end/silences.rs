//! The silences of a line, and which of them lose a player who counts.
//!
//! Bars and seconds alone would mark hundreds of rests in one symphony. What counts is what upsets the count (another
//! metre, a fermata, a tempo that moves), what gives no hold at the entry (off the beat, alone, the landmark too late),
//! and that nothing helps: no cue, no landmark shortly before, no other entries at the same moment. The weights are our
//! own, set on open symphonies so that most players have none.

use std::cmp::Reverse;

use super::everyone::{Around, Everyone, beat};
use super::line::{self, LineBar};
use super::{HardToCount, Silence, cue};
use crate::place::{BarIdx, BarSpan};
use crate::players::{Hands, Player};
use crate::score::{Cell, MarkKind};
use crate::units::{Fraction, Seconds};

/// A rest is long from here on: at 16 bars or 30 s, one in ten to fourteen of open symphonies is (measured). A few slow
/// bars are counted easily, however long they last.
const LONG_BARS: u32 = 16;
const LONG_SECONDS: Seconds = Seconds(30.0);
const FEW_BARS: u32 = 8;
/// A landmark so many bars before the entry, or nearer, picks up whoever was lost.
const PICKS_UP: u32 = 8;
/// A landmark so many bars after the entry misleads: the player who sees it come has missed the entry.
const JUST_AFTER: u32 = 4;
/// A cue for an entry stands within so many bars before it.
const CUE_BARS: u32 = 8;
/// A silence with so much weight is worth a flag ...
const FLAGGED: u16 = 5;
/// ... of which a player gets no more than so many.
const MOST: usize = 3;

pub(super) fn silences(player: &Player, own: &[LineBar], around: &Everyone) -> Vec<Silence> {
    let mut weights = Vec::new();
    let mut silences: Vec<Silence> = Vec::new();
    for bars in line::runs(&player.music, own, false) {
        let entry = entry_after(own, bars, around);
        let hole = Hole { player, own, around, bars, entry };
        let hard = hole.hard();
        let has_cue = hole.has_cue();
        if hard.contains(&HardToCount::Long) && !has_cue && !hole.is_picked_up() {
            weights.push((hole.weight(&hard), silences.len()));
        }
        silences.push(Silence { bars, seconds: hole.seconds(), hard, rank: None, has_cue, cue: None });
    }
    weights.retain(|(weight, _)| *weight >= FLAGGED);
    let length = |at: usize| silences.get(at).map_or(0, |silence| silence.bars.count());
    weights.sort_by_key(|(weight, at)| (Reverse(*weight), Reverse(length(*at)), *at));
    for (rank, (_, at)) in (1..).zip(weights.into_iter().take(MOST)) {
        let Some(silence) = silences.get_mut(at) else { continue };
        silence.rank = Some(rank);
        silence.cue = cue::before(BarIdx(silence.bars.last.0.saturating_add(1)), silence.bars, player, around);
    }
    silences
}

/// The bar in which the line sounds again, if its movement goes on so long.
fn entry_after(own: &[LineBar], bars: BarSpan, around: &Everyone) -> Option<BarIdx> {
    let next = BarIdx(bars.last.0.checked_add(1)?);
    let goes_on = around.score.movement_of(bars.last).is_some_and(|movement| movement.bars.contains(next));
    own.get(next.at()).filter(|bar| bar.sounds && goes_on).map(|_| next)
}

/// A silence and all that is known about it.
struct Hole<'a> {
    player: &'a Player,
    own: &'a [LineBar],
    around: &'a Everyone<'a>,
    bars: BarSpan,
    /// Where the player comes in again; `None` where its movement ends without.
    entry: Option<BarIdx>,
}

impl Hole<'_> {
    fn entry_onset(&self) -> Option<(BarIdx, Fraction)> {
        self.entry.and_then(|bar| Some((bar, self.own.get(bar.at())?.first)))
    }

    fn seconds(&self) -> Option<Seconds> {
        let from = self.bars.first.0.checked_sub(1).map(BarIdx);
        let begins = self.around.score.movement_of(self.bars.first).map(|movement| movement.bars.first);
        let last_sound = from.filter(|_| begins != Some(self.bars.first)).and_then(|bar| {
            let sound = self.own.get(bar.at())?;
            Some((bar, sound.ends))
        });
        let start = last_sound.unwrap_or((self.bars.first, Fraction::ZERO));
        let after = (BarIdx(self.bars.last.0.saturating_add(1)), Fraction::ZERO);
        self.around.clock.span_of(start, self.entry_onset().unwrap_or(after))
    }

    fn inside(&self) -> impl Iterator<Item = &Around> {
        self.bars.iter().filter_map(|bar| self.around.bar(bar))
    }

    /// Bars inside and that of the entry, but the first: what changes where the silence begins upsets nobody.
    fn changes(&self) -> impl Iterator<Item = &Around> {
        self.inside().chain(self.entry.and_then(|bar| self.around.bar(bar))).skip(1)
    }

    /// What makes it hard to count, in the order of [`HardToCount`]; empty where nothing follows.
    fn hard(&self) -> Vec<HardToCount> {
        let Some((bar, onset)) = self.entry_onset() else { return Vec::new() };
        let metres = self.changes().filter(|around| around.new_metre).count();
        let long = self.seconds().is_some_and(|seconds| seconds >= LONG_SECONDS) && self.bars.count() >= FEW_BARS;
        let found = [
            (long || self.bars.count() >= LONG_BARS, HardToCount::Long),
            (metres > 0, HardToCount::MetreChanges(u16::try_from(metres).unwrap_or(u16::MAX))),
            (self.inside().any(|around| around.fermata), HardToCount::Fermata),
            (self.inside().any(|around| around.tempo_moves), HardToCount::TempoMoves),
            (self.inside().any(|around| around.general_pause), HardToCount::GeneralPause),
            (self.is_off_the_beat(bar, onset), HardToCount::OffTheBeat),
            (self.enters_alone(bar, onset), HardToCount::EntersAlone),
            (self.landmark_just_after(bar), HardToCount::LandmarkAfter),
        ];
        found.into_iter().filter(|(is_so, _)| *is_so).map(|(_, what)| what).collect()
    }

    /// What upsets the count weighs one each, what leaves the player alone with it two; a change of beat is felt as
    /// both. Others who come in together give a hold.
    fn weight(&self, hard: &[HardToCount]) -> u16 {
        let weight = |what: &HardToCount| match what {
            HardToCount::Long => u16::from(self.bars.count() >= 2 * LONG_BARS),
            HardToCount::MetreChanges(times) => (*times).min(3),
            HardToCount::Fermata | HardToCount::TempoMoves | HardToCount::GeneralPause | HardToCount::OffTheBeat => 1,
            HardToCount::EntersAlone | HardToCount::LandmarkAfter => 2,
        };
        let beats = u16::from(self.changes().any(|around| around.new_beat));
        let held = if self.entering_with().unwrap_or(0) >= 2 { 2 } else { 0 };
        (hard.iter().map(weight).sum::<u16>() + beats).saturating_sub(held)
    }

    fn is_off_the_beat(&self, bar: BarIdx, onset: Fraction) -> bool {
        let metre = self.around.score.bar(bar).and_then(|bar| bar.metre.as_ref());
        // A half note beat is also felt in two quarters.
        let beat = metre.and_then(beat).map(|beat| beat.min(Fraction::new(3, 2).unwrap_or(beat)));
        let beat = beat.map(|beat| if beat.den() == 1 { Fraction::ONE } else { beat });
        beat.and_then(|beat| onset.checked_div(beat)).is_some_and(|beats| beats.den() != 1)
    }

    /// Other parts that come in after a silence, in the bar of the entry and not after it.
    fn entering_with(&self) -> Option<usize> {
        let (bar, onset) = self.entry_onset()?;
        let own = self.around.parts_of(self.player);
        let entering = &self.around.bar(bar)?.entering;
        let with = entering.iter().take_while(|(at, _)| *at <= onset).filter(|(_, part)| !own.contains(part));
        Some(with.count())
    }

    fn enters_alone(&self, bar: BarIdx, onset: Fraction) -> bool {
        let has_desk_mates = self.player.hands == Hands::Section;
        let has_partner = self.player.number.is_some() && !self.says_who_plays(bar, onset);
        let others = self.around.score.parts.len() > self.around.parts_of(self.player).len();
        others && !has_desk_mates && !has_partner && self.entering_with() == Some(0)
    }

    /// Whether a shared staff has one of its players enter by a word: "1.", "2. solo".
    fn says_who_plays(&self, bar: BarIdx, onset: Fraction) -> bool {
        let cells = self.player.staves.iter().filter_map(|staff| self.around.score.cell(bar, *staff));
        let marks = cells.flat_map(|cell| &cell.marks).filter(|mark| mark.onset <= onset);
        let mut words = marks.filter_map(|mark| match &mark.kind {
            MarkKind::Words(text) => Some(text.trim().to_lowercase()),
            _ => None,
        });
        words.any(|text| {
            let number = text.strip_prefix(|digit: char| digit.is_ascii_digit());
            text.starts_with("solo") || number.is_some_and(|rest| rest.starts_with(['.', '\u{b0}', '\u{ba}']))
        })
    }

    fn has_landmark(&self, bar: u32) -> bool {
        self.around.bar(BarIdx(bar)).is_some_and(|around| around.landmark)
    }

    /// Whether a landmark inside, near the entry or at it, tells where it is.
    fn is_picked_up(&self) -> bool {
        let entry = self.bars.last.0.saturating_add(1);
        (entry.saturating_sub(PICKS_UP).max(self.bars.first.0)..=entry).any(|bar| self.has_landmark(bar))
    }

    fn landmark_just_after(&self, entry: BarIdx) -> bool {
        let movement = self.around.score.movement_of(entry).map(|movement| movement.bars);
        let mut after = (1..=JUST_AFTER).map(|bars| entry.0.saturating_add(bars));
        let is_after = |bar| movement.is_some_and(|bars| bars.contains(BarIdx(bar))) && self.has_landmark(bar);
        !self.is_picked_up() && after.any(is_after)
    }

    /// Small notes in the last bars of the silence, or before the entry in its bar.
    fn has_cue(&self) -> bool {
        let Some((entry, onset)) = self.entry_onset() else { return false };
        let from = self.bars.last.0.saturating_sub(CUE_BARS - 1).max(self.bars.first.0);
        let staves = self.player.music.staves.len().max(1);
        let cells = |bar: u32| self.player.music.cells.get(bar as usize * staves..(bar as usize + 1) * staves);
        let cued = |cell: &Cell, until: Option<Fraction>| {
            cell.events.iter().any(|event| event.cue && until.is_none_or(|until| event.onset < until))
        };
        (from..=self.bars.last.0).filter_map(cells).flatten().any(|cell| cued(cell, None))
            || cells(entry.0).into_iter().flatten().any(|cell| cued(cell, Some(onset)))
    }
}
