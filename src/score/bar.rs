//! Movements and bars.

use crate::place::{BarSpan, PartId};
use crate::units::{Fraction, Seconds};

/// One movement: a run of bars with a title of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Movement {
    pub title: Option<String>,
    pub bars: BarSpan,
    /// Which input file it came from, counted from 0.
    pub input: u16,
    /// The parts that this file has, in its own order; empty when it is no file of notes.
    pub parts: Vec<PartId>,
}

/// What is the same for every staff in one bar.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bar {
    /// The printed number as the file writes it ("12", "X1", "12a"); not unique.
    pub label: String,
    /// Not counted in the numbering (a pick-up, the second half of a divided bar).
    pub uncounted: bool,
    /// The longest length that any part fills, in quarters.
    pub length: Fraction,
    /// In force in this bar; `None` for music without metre.
    pub metre: Option<Metre>,
    /// Whether `metre` is printed anew in this bar.
    pub metre_changes: bool,
    /// Played once, by the tempo map; `None` without metre or when the time cannot be known.
    pub seconds: Option<Seconds>,
    /// How often it is played with repeats and endings as written; at least 1.
    pub times_played: u32,
    pub left: Barline,
    pub right: Barline,
    pub ending: Option<Ending>,
    /// Printed as one multi-bar rest of this many bars, beginning here (MusicXML multiple-rest).
    pub multi_bar_rest: Option<u32>,
}

/// A metre: beats added up over one beat value ("3+2 / 8" has beats `[3, 2]`), or several side by side as their sum.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Metre {
    /// As printed: "4/4", "C", "3+2/8".
    pub text: String,
    /// Full length in quarters.
    pub length: Fraction,
    /// The beat value that it is counted in: 4 for quarters.
    pub beat_value: u32,
}

/// One side of a bar.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Barline {
    pub is_double: bool,
    /// Light-heavy: the end of a movement.
    pub is_final: bool,
    /// A repeat begins (left side) or ends (right side) here.
    pub repeat: bool,
    pub fermata: bool,
}

/// A bar under a first, second, ... ending.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ending {
    /// Which times it is played; empty when the text cannot be read as numbers.
    pub times: Vec<u32>,
    pub starts: bool,
    pub stops: bool,
}
