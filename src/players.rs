//! Each player's music: who reads which line of which staff, and what the music alone tells of reading it.
//!
//! Nothing here knows paper. A player's line is a [`Score`] of one part with the bars, movements and system marks of the
//! full score, so that a bar has the same index in both.

use crate::place::{BarSpan, StaffId};
use crate::score::{Family, Score};

pub mod blocks;
pub mod changes;
mod clock;
mod draw;
pub mod end_to_end;
pub mod names;
pub mod turning;
mod words;

pub use draw::{Drawn, PartsList, PartsListError, alone, draw, is_who_plays, of_part};
pub(crate) use words::{asks, folded};

/// Who reads one part on one stand: a single player, or a section whose stands all bear the same part.
#[derive(Clone, Debug, PartialEq)]
pub struct Player {
    /// As the part is headed: "Clarinet in B flat 2", "Violins I".
    pub name: String,
    pub family: Family,
    pub hands: Hands,
    /// Which of those who share its staves, counted from 1; `None` where the staff is its own.
    pub number: Option<u16>,
    /// Staves of the full score that it is drawn from, from the top.
    pub staves: Vec<StaffId>,
    /// Sheets to be printed of it.
    pub copies: u16,
    /// Its own music: one part, and every bar of the full score.
    pub music: Score,
    /// Where a shared staff does not tell what is this player's, in order. While there are any, the part cannot be
    /// delivered.
    pub undecided: Vec<Undecided>,
}

/// What playing takes of the hands, and what a sound leaves free.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hands {
    /// Blown: both hands and the breath, as long as a note sounds.
    Wind,
    /// Bowed by a section whose desks share a part: one of two may turn.
    Section,
    /// Bowed by a single player.
    Bowed,
    Timpani,
    Percussion,
    Harp,
    Keyboard,
    /// Sung: the hands are free, the eyes are not.
    Voice,
    /// Not known what it is: treated as if every note took both hands.
    Unknown,
}

/// A passage on a shared staff that does not tell who plays.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Undecided {
    pub bars: BarSpan,
    /// Of the full score.
    pub staff: StaffId,
    /// One sentence: "one line without "a2", "1." or "2."".
    pub why: String,
}
