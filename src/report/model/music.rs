//! The music in the published JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::thousandth;
use crate::check::Checked;
use crate::place::{BarIdx, PartId};
use crate::score::{self, Family};
use crate::units::{Fraction, Seconds};

/// The work as a whole.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Score {
    pub title: Option<String>,
    pub movements: Vec<Movement>,
    /// Who plays, on one line, in the order of the trade.
    pub forces: String,
    /// Playing time with repeats as written.
    pub seconds: Option<Seconds>,
    pub bar_count: u32,
    /// Note elements in the files: notes, notes of chords, rests, grace notes.
    pub note_elements: u64,
    pub parts: Vec<Part>,
    pub bars: Vec<Bar>,
}

/// One movement.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Movement {
    pub title: Option<String>,
    pub first_bar_index: BarIdx,
    pub last_bar_index: BarIdx,
}

/// One part of the score.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Part {
    /// The file's own name for it.
    pub id: String,
    /// As printed.
    pub name: String,
    pub family: Family,
    /// How many staves it has.
    pub staves: u32,
    pub note_elements: u64,
}

/// One bar.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Bar {
    pub index: BarIdx,
    /// The printed number; not unique.
    pub label: String,
    /// Length in quarters, "7/2".
    pub quarters: Fraction,
    /// Played once.
    pub seconds: Option<Seconds>,
}

impl Score {
    pub(super) fn of(checked: &Checked) -> Score {
        let score = &checked.score;
        Score {
            title: score.title.clone(),
            movements: score.movements.iter().map(Movement::of).collect(),
            forces: checked.forces(None),
            seconds: score.duration().map(rounded),
            bar_count: score.bars.len() as u32,
            note_elements: score.note_elements,
            parts: (0..).map(PartId).zip(&score.parts).map(|(id, part)| Part::of(score, id, part)).collect(),
            bars: (0..).map(BarIdx).zip(&score.bars).map(|(index, bar)| Bar::of(index, bar)).collect(),
        }
    }
}

impl Movement {
    fn of(movement: &score::Movement) -> Movement {
        Movement {
            title: movement.title.clone(),
            first_bar_index: movement.bars.first,
            last_bar_index: movement.bars.last,
        }
    }
}

impl Part {
    fn of(score: &score::Score, id: PartId, part: &score::Part) -> Part {
        Part {
            id: part.id.clone(),
            name: part.name.clone(),
            family: part.family,
            staves: score.staves_of(id).count() as u32,
            note_elements: part.note_elements,
        }
    }
}

impl Bar {
    fn of(index: BarIdx, bar: &score::Bar) -> Bar {
        Bar { index, label: bar.label.clone(), quarters: bar.length, seconds: bar.seconds.map(rounded) }
    }
}

pub(super) fn rounded(seconds: Seconds) -> Seconds {
    Seconds(thousandth(seconds.0))
}
