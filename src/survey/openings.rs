//! Openings: the one or two pages that lie before the conductor between two turns.

use crate::place::{BarIdx, BarSpan, PageIdx};
use crate::units::Seconds;

/// One opening.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// One page, or verso and recto.
    pub pages: Vec<PageIdx>,
    /// `None` when no music stands on it.
    pub bars: Option<BarSpan>,
    /// Of its music played straight through; `None` when the time is not known.
    pub seconds: Option<Seconds>,
    /// What the conductor meets just after turning to it, in order; empty for the first opening.
    pub after_turn: Vec<AfterTurn>,
}

/// Something that begins just after a turn.
#[derive(Clone, Debug, PartialEq)]
pub struct AfterTurn {
    pub kind: AfterTurnKind,
    pub bar: BarIdx,
    /// From the first note overleaf.
    pub seconds: Seconds,
    /// In a musician's words: "Allegro", "3/4", "trumpets enter ff".
    pub what: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AfterTurnKind {
    NewTempo,
    /// A metre that does not recur all the time.
    NewMetre,
    Fermata,
    GeneralPause,
    /// Someone enters alone after silence, or the whole orchestra suddenly loud or soft.
    ExposedEntry,
}
