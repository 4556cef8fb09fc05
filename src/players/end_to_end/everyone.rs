//! What all parts of the score do at a time, for whoever wants to know of one player what goes on around it.

use super::line::{self, LineBar};
use crate::place::{BarIdx, PartId};
use crate::players::Player;
use crate::players::clock::Clock;
use crate::score::{Bar, Barline, Metre, Score, SystemMarkKind};
use crate::units::Fraction;

/// The full score, looked through once for all players.
#[derive(Debug)]
pub struct Everyone<'a> {
    pub(super) score: &'a Score,
    pub(super) clock: Clock,
    /// Per part in score order, one entry a bar.
    pub(super) lines: Vec<Vec<LineBar>>,
    bars: Vec<Around>,
}

/// One bar of the full score.
#[derive(Debug, Default)]
pub(super) struct Around {
    /// How many parts sound in it.
    pub sounding: usize,
    /// Who comes in after a bar of silence or more, and where, in order.
    pub entering: Vec<(Fraction, PartId)>,
    pub fermata: bool,
    pub tempo_moves: bool,
    pub general_pause: bool,
    /// Another metre than before; and another beat, which is the harder.
    pub new_metre: bool,
    pub new_beat: bool,
    /// Something that every player sees on paper at its start: a letter, a tempo, a double bar.
    pub landmark: bool,
}

impl<'a> Everyone<'a> {
    /// Walks once over all cells and marks.
    #[must_use]
    pub fn new(score: &'a Score) -> Everyone<'a> {
        let lines = line::of_parts(score);
        let mut bars: Vec<Around> = score.bars.iter().map(|_| Around::default()).collect();
        bar_by_bar(score, &mut bars);
        marks(score, &mut bars);
        for (part, line) in (0..).map(PartId).zip(&lines) {
            let mut sounded = false;
            for (bar, around) in line.iter().zip(&mut bars) {
                around.sounding += usize::from(bar.sounds);
                if bar.sounds && !sounded {
                    around.entering.push((bar.first, part));
                }
                sounded = bar.sounds;
            }
        }
        for around in &mut bars {
            around.entering.sort_unstable();
        }
        silent_bars(score, &mut bars);
        Everyone { score, clock: Clock::of(score), lines, bars }
    }

    pub(super) fn bar(&self, bar: BarIdx) -> Option<&Around> {
        self.bars.get(bar.at())
    }

    pub(super) fn line_bar(&self, part: PartId, bar: BarIdx) -> Option<&LineBar> {
        self.lines.get(part.at()).and_then(|line| line.get(bar.at()))
    }

    /// Parts but those that a player is drawn from which sound in a bar.
    pub(super) fn others_sounding(&self, player: &Player, bar: BarIdx) -> usize {
        let own = self.parts_of(player);
        let sounds = |part: &&PartId| self.line_bar(**part, bar).is_some_and(|bar| bar.sounds);
        self.bar(bar).map_or(0, |around| around.sounding.saturating_sub(own.iter().filter(sounds).count()))
    }

    /// The parts of the score that a player is drawn from.
    pub(super) fn parts_of(&self, player: &Player) -> Vec<PartId> {
        let staves = player.staves.iter().filter_map(|staff| self.score.staves.get(staff.at()));
        let mut parts: Vec<PartId> = staves.map(|staff| staff.part).collect();
        parts.sort_unstable();
        parts.dedup();
        parts
    }
}

/// Fermatas, metres, barlines, beginnings of movements.
fn bar_by_bar(score: &Score, bars: &mut [Around]) {
    let rows = score.cells.chunks(score.staves.len().max(1));
    for (around, row) in bars.iter_mut().zip(rows) {
        around.fermata = row.iter().any(|cell| cell.events.iter().any(|event| event.fermata));
    }
    let mut before: Option<&Bar> = None;
    for (around, bar) in bars.iter_mut().zip(&score.bars) {
        around.fermata |= bar.left.fermata || bar.right.fermata;
        let is_seam = |line: &Barline| line.is_double || line.is_final || line.repeat;
        around.landmark = is_seam(&bar.left) || before.is_some_and(|before| is_seam(&before.right));
        if let Some((old, new)) = before.and_then(|before| before.metre.as_ref()).zip(bar.metre.as_ref()) {
            around.new_metre = old.length != new.length || old.beat_value != new.beat_value;
            around.new_beat = beat(old) != beat(new);
        }
        before = Some(bar);
    }
    for movement in &score.movements {
        if let Some(around) = bars.get_mut(movement.bars.first.at()) {
            (around.landmark, around.new_metre, around.new_beat) = (true, false, false);
        }
    }
}

fn marks(score: &Score, bars: &mut [Around]) {
    for mark in &score.marks {
        let Some(around) = bars.get_mut(mark.bar.at()) else { continue };
        match &mark.kind {
            SystemMarkKind::Rehearsal(_) => around.landmark = true,
            // What only playback does is not printed.
            SystemMarkKind::Tempo { .. } => around.landmark |= !mark.over.is_empty(),
            SystemMarkKind::TempoMoves(_) => around.tempo_moves = true,
            SystemMarkKind::GeneralPause => around.general_pause = true,
            SystemMarkKind::Jump(_) => {}
        }
    }
}

/// A bar in which everybody is silent, between bars in which somebody plays.
fn silent_bars(score: &Score, bars: &mut [Around]) {
    if score.parts.len() < 2 {
        return;
    }
    for movement in &score.movements {
        let inside = bars.get_mut(movement.bars.first.at()..=movement.bars.last.at()).unwrap_or_default();
        let sounds = |around: &Around| around.sounding > 0;
        let Some((first, last)) = inside.iter().position(sounds).zip(inside.iter().rposition(sounds)) else { continue };
        for around in inside.iter_mut().take(last).skip(first).filter(|around| around.sounding == 0) {
            around.general_pause = true;
        }
    }
}

/// What is counted as one in a metre, in quarters: the beat value, three of them in compound metres (common practice:
/// 6/8, 9/8 and 12/8 go in dotted quarters).
pub(super) fn beat(metre: &Metre) -> Option<Fraction> {
    let unit = Fraction::new(4, i64::from(metre.beat_value))?;
    let units = metre.length.checked_div(unit)?;
    let compound = metre.beat_value >= 8 && units.den() == 1 && units.num() > 3 && units.num() % 3 == 0;
    if compound { unit.checked_mul(Fraction::whole(3)) } else { Some(unit) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn beats_are_those_that_are_counted() {
        let metre = |beats: i64, beat_value: u32| {
            let length = Fraction::new(4 * beats, i64::from(beat_value)).unwrap();
            beat(&Metre { text: String::new(), length, beat_value }).unwrap().to_string()
        };
        assert_eq!([metre(4, 4), metre(3, 2), metre(2, 2), metre(3, 8)], ["1", "2", "2", "1/2"]);
        assert_eq!([metre(6, 8), metre(9, 8), metre(12, 8), metre(6, 4)], ["3/2", "3/2", "3/2", "1"]);
    }
}
