//! The music of one work: movements, parts, bars, and what stands in each bar on each staff.
//!
//! A score knows nothing of pages. Several movements or files are one score; bars count on through all of them.

use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::units::Seconds;

mod anchors;
mod bar;
mod cell;
mod event;
mod excerpt;
mod family;
mod marks;
mod part;
mod signs;
mod sketch;
mod sounding;
mod symbols;

pub use bar::{Bar, Barline, Ending, Metre, Movement};
pub use cell::Cell;
pub use event::{Event, EventKind, Grace, Note, NoteValue, Pitch, Position, Spanner, Stem, Syllable};
pub use family::Family;
pub use marks::{MarkKind, MetronomeMark, StaffMark, SystemMark, SystemMarkKind};
pub use part::{Credit, Group, GroupSymbol, Part, Staff, Transposition};
pub use signs::{SignKind, Signs};
pub use sketch::{Busyness, Sketch};
pub use symbols::{Clef, ClefSign, Key};

/// A whole work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Score {
    /// Title of the work; the movement's when the work has none.
    pub title: Option<String>,
    pub composer: Option<String>,
    /// In order; together they hold every bar. At least one unless the score is empty.
    pub movements: Vec<Movement>,
    pub bars: Vec<Bar>,
    pub parts: Vec<Part>,
    /// Staves of all parts from the top of the score down; [`StaffId`] is the index.
    pub staves: Vec<Staff>,
    /// Brackets and braces over parts, outermost first.
    pub groups: Vec<Group>,
    /// Bar by bar, each bar's staves from the top: `bars.len() * staves.len()` cells.
    pub cells: Vec<Cell>,
    /// What stands over the whole system, in order of bar and onset.
    pub marks: Vec<SystemMark>,
    /// Text printed on pages outside the music: titles, forces, page numbers.
    pub credits: Vec<Credit>,
    /// Whether the file states that it is written at sounding pitch.
    pub concert_pitch: Option<bool>,
    /// Whether seconds of some bars rest on an assumed tempo of 100 quarters a minute, because their movement gives
    /// none at all.
    pub tempo_assumed: bool,
    /// Number of note elements in the files (notes, chord members, rests, grace notes).
    pub note_elements: u64,
}

impl Score {
    /// What stands in `bar` on `staff`; `None` outside the score.
    #[must_use]
    pub fn cell(&self, bar: BarIdx, staff: StaffId) -> Option<&Cell> {
        if staff.at() >= self.staves.len() {
            return None;
        }
        self.cells.get(bar.at() * self.staves.len() + staff.at())
    }

    #[must_use]
    pub fn bar(&self, bar: BarIdx) -> Option<&Bar> {
        self.bars.get(bar.at())
    }

    /// Whether it is a plan of a piece and not its notes: then every cell is a sketch.
    #[must_use]
    pub fn is_outline(&self) -> bool {
        self.cells.first().is_some_and(|cell| matches!(cell.sketch, Some(Sketch::Rests | Sketch::Plays(_))))
    }

    /// Whether only its pages were looked at: it has staves and bars, and what is played there is not known.
    #[must_use]
    pub fn is_unseen(&self) -> bool {
        self.cells.first().is_some_and(|cell| cell.sketch == Some(Sketch::Unseen))
    }

    /// The part that a staff belongs to.
    #[must_use]
    pub fn part_of(&self, staff: StaffId) -> Option<&Part> {
        self.staves.get(staff.at()).and_then(|staff| self.parts.get(staff.part.at()))
    }

    /// The staves of a part, from its top staff down.
    pub fn staves_of(&self, part: PartId) -> impl Iterator<Item = StaffId> {
        self.staves.iter().enumerate().filter(move |(_, staff)| staff.part == part).map(|(at, _)| StaffId(at as u16))
    }

    /// The movement that a bar belongs to.
    #[must_use]
    pub fn movement_of(&self, bar: BarIdx) -> Option<&Movement> {
        self.movements.iter().find(|movement| movement.bars.contains(bar))
    }

    /// Every bar of the score, `None` when it has none.
    #[must_use]
    pub fn all_bars(&self) -> Option<BarSpan> {
        let last = self.bars.len().checked_sub(1)?;
        Some(BarSpan::new(BarIdx(0), BarIdx(last as u32)))
    }

    /// Time of a passage played straight through, without repeats; `None` when a bar's time is not known.
    #[must_use]
    pub fn seconds_of(&self, bars: BarSpan) -> Option<Seconds> {
        bars.iter().map(|bar| self.bar(bar).and_then(|bar| bar.seconds)).sum()
    }

    /// Time of the whole work with repeats as written.
    #[must_use]
    pub fn duration(&self) -> Option<Seconds> {
        self.bars.iter().map(|bar| bar.seconds.map(|once| once * f64::from(bar.times_played))).sum()
    }

    /// Time of the bars that have a metre, with repeats as written, and how many bars have none and so no known time.
    #[must_use]
    pub fn duration_in_metre(&self) -> (Seconds, usize) {
        let known = self.bars.iter().filter_map(|bar| bar.seconds.map(|once| once * f64::from(bar.times_played))).sum();
        (known, self.bars.iter().filter(|bar| bar.seconds.is_none()).count())
    }

    /// The printed number of a bar.
    #[must_use]
    pub fn label(&self, bar: BarIdx) -> &str {
        self.bar(bar).map_or("", |bar| bar.label.as_str())
    }
}
