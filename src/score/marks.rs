//! Marks at the staff (dynamics, words, lines) and over the system (tempo, rehearsal marks).

use super::Position;
use crate::place::{BarIdx, StaffId};
use crate::units::Fraction;

/// A mark of one staff.
#[derive(Clone, Debug, PartialEq)]
pub struct StaffMark {
    /// From the start of the bar, in quarters.
    pub onset: Fraction,
    pub kind: MarkKind,
    /// `Some(true)` above, `Some(false)` below the staff, `None` when the file does not say.
    pub above: Option<bool>,
    pub at: Position,
    /// Which direction element of its part's bar says it, counted from 0; `None` where none does.
    pub nth: Option<u32>,
}

impl StaffMark {
    /// A mark whose place on paper is not known.
    #[must_use]
    pub fn new(onset: Fraction, kind: MarkKind) -> StaffMark {
        StaffMark { onset, kind, above: None, at: Position::default(), nth: None }
    }
}

/// What a mark at the staff is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MarkKind {
    /// "p", "sfz", or the file's own words.
    Dynamic(String),
    HairpinStart {
        number: u8,
        opens: bool,
    },
    HairpinStop {
        number: u8,
    },
    /// Playing instructions and other text of this staff.
    Words(String),
    /// 8va, 15ma ...: `octaves` up (8va: 1, 8vb: -1).
    OctaveLineStart {
        number: u8,
        octaves: i8,
    },
    OctaveLineStop {
        number: u8,
    },
    PedalStart,
    PedalStop,
    /// Dashed or bracketed line.
    LineStart {
        number: u8,
    },
    LineStop {
        number: u8,
    },
    /// Figured bass, rows of figures.
    Figures(u8),
    /// Chord symbol.
    ChordSymbol,
}

/// A mark that stands for the whole orchestra; one, however many staves it is printed over.
#[derive(Clone, Debug, PartialEq)]
pub struct SystemMark {
    pub bar: BarIdx,
    pub onset: Fraction,
    pub kind: SystemMarkKind,
    /// The staves that it is printed over, from the top. Empty for playback tempos, which are not printed.
    pub over: Vec<StaffId>,
    pub at: Position,
}

/// What a mark over the system is.
#[derive(Clone, Debug, PartialEq)]
pub enum SystemMarkKind {
    Rehearsal(String),
    /// A tempo: its words ("Allegro"), its metronome mark, and the tempo that playback uses from here.
    Tempo {
        words: String,
        metronome: Option<MetronomeMark>,
        /// Quarters a minute from here, of the mark or of the playback; `None` for words alone.
        quarters_per_minute: Option<f64>,
    },
    /// rit., accel. and their like: the tempo moves until the next one.
    TempoMoves(String),
    /// "G.P." or a pause of all.
    GeneralPause,
    /// Segno, coda, da capo, fine ... as read.
    Jump(String),
}

/// A metronome mark as printed.
#[derive(Clone, Debug, PartialEq)]
pub struct MetronomeMark {
    /// The beat that is counted, in quarters.
    pub beat: Fraction,
    /// Text of the count: "96", "c. 60", "50-55"; or the name of the note value that the beat equals: "dotted half".
    pub per_minute: String,
}
