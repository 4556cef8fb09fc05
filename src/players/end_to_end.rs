//! A player's whole line: when it plays, how loud and how high, what is hard to count, what comes cold.

use crate::place::{BarIdx, BarSpan, PartId};
use crate::players::Player;
use crate::score::Pitch;
use crate::units::{Fraction, Seconds};

mod breath;
mod cold;
mod cue;
mod everyone;
mod line;
mod loudness;
mod silences;

pub use everyone::Everyone;

/// A part from its first to its last bar, in the order of the music. Information, no judgement.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EndToEnd {
    /// Passages that it plays, joined over rests shorter than a bar.
    pub plays: Vec<Passage>,
    /// Every silence of a bar or more, in order.
    pub rests: Vec<Silence>,
    /// Entries after a long silence, those that ask most first; at most three.
    pub cold: Vec<ColdEntry>,
    /// The longest span under one slur or tie, for winds; `None` for others and where nothing is slurred.
    pub breath: Option<Breath>,
    /// Another instrument, mute on or off, mallets, sticks, bow or fingers, retuning, in order.
    pub changes: Vec<Change>,
}

/// Neighbouring bars that it plays.
#[derive(Clone, Debug, PartialEq)]
pub struct Passage {
    pub bars: BarSpan,
    /// From the beginning of the work, played straight through; `None` where the time cannot be known.
    pub starts: Option<Seconds>,
    pub seconds: Option<Seconds>,
    /// One entry a bar.
    pub levels: Vec<BarLevel>,
}

/// One bar of a passage.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BarLevel {
    /// Dynamic in force at the bar's start: -4 = pppp ... -1 = p, 0 = mp/mf, 1 = f ... 4 = ffff; `None` before the first.
    pub loudness: Option<i8>,
    /// Lowest and highest written pitch; `None` without pitched notes.
    pub range: Option<(Pitch, Pitch)>,
}

/// A silence of at least one bar.
#[derive(Clone, Debug, PartialEq)]
pub struct Silence {
    /// Whole bars of silence.
    pub bars: BarSpan,
    /// From the last sound to the next; `None` where the time cannot be known.
    pub seconds: Option<Seconds>,
    /// What makes it hard to count; empty where nothing does.
    pub hard: Vec<HardToCount>,
    /// Among all its silences: 1 is the hardest. `None` where nothing makes it hard, or nothing follows.
    pub rank: Option<u16>,
    /// A cue stands before the entry already.
    pub has_cue: bool,
    /// Where a cue could come from, for the flagged ones.
    pub cue: Option<CueFrom>,
}

/// What loses a player who counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HardToCount {
    Long,
    MetreChanges(u16),
    Fermata,
    TempoMoves,
    GeneralPause,
    /// The entry is off the beat.
    OffTheBeat,
    /// Nobody enters with it.
    EntersAlone,
    /// The nearest landmark stands just after the entry.
    LandmarkAfter,
}

/// A passage of another player that would lead into an entry.
#[derive(Clone, Debug, PartialEq)]
pub struct CueFrom {
    pub part: PartId,
    /// "Trombone 1".
    pub name: String,
    pub bars: BarSpan,
    /// Of its first note: as it sounds, and as it would be written in this player's part.
    pub sounding: Pitch,
    pub written: Pitch,
}

/// An entry after a long silence that asks for more than most.
#[derive(Clone, Debug, PartialEq)]
pub struct ColdEntry {
    pub bar: BarIdx,
    pub onset: Fraction,
    pub silent: Seconds,
    pub first: Option<Pitch>,
    pub loudness: Option<i8>,
    /// Near the top of what this part plays anywhere.
    pub high: bool,
    /// Few others sound with it.
    pub exposed: bool,
}

/// Notes without a place to breathe.
#[derive(Clone, Debug, PartialEq)]
pub struct Breath {
    pub bars: BarSpan,
    pub seconds: Seconds,
    /// Others play the same, so that breaths can be staggered.
    pub shared: bool,
}

/// Something to change between two notes.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    pub kind: ChangeKind,
    /// As printed: "muta in piccolo", "con sord.".
    pub words: String,
    /// Where the words stand.
    pub bar: BarIdx,
    /// From the last note before to the first note after; `None` where the time cannot be known.
    pub seconds: Option<Seconds>,
    /// Last bar played before, first bar played after; `None` at the beginning or end.
    pub from: Option<BarIdx>,
    pub to: Option<BarIdx>,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ChangeKind {
    /// To another instrument, by its name.
    Instrument(String),
    /// A mute on or off; which kind is told by the family (a string's bridge, a brass bell).
    MuteOn,
    MuteOff,
    Mallets,
    /// Plucked or bowed.
    Pizzicato,
    Arco,
    Retuning,
}

/// A player's line from end to end; `changes` are handed through.
#[must_use]
pub fn end_to_end(player: &Player, around: &Everyone, changes: Vec<Change>) -> EndToEnd {
    let own = line::whole(&player.music);
    let plays = line::runs(&player.music, &own, true).into_iter().map(|bars| Passage {
        bars,
        starts: around.clock.starts(bars.first),
        seconds: around.clock.of_bars(bars),
        levels: bars
            .iter()
            .filter_map(|bar| own.get(bar.at()))
            .map(|bar| BarLevel { loudness: bar.loudness, range: bar.range })
            .collect(),
    });
    EndToEnd {
        plays: plays.collect(),
        rests: silences::silences(player, &own, around),
        cold: cold::entries(player, &own, around),
        breath: breath::longest(player, around),
        changes,
    }
}

#[cfg(test)]
mod tests;
