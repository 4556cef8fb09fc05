//! One bar on one staff.

use super::{Clef, Event, EventKind, Key, Sketch, StaffMark, Transposition};
use crate::units::Fraction;

/// What stands in one bar on one staff.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cell {
    /// In order of onset; grace notes before their main note; voices interleaved.
    pub events: Vec<Event>,
    /// Dynamics, hairpins, words and lines of this staff, in order of onset.
    pub marks: Vec<StaffMark>,
    /// In force when the bar begins.
    pub clef: Clef,
    /// Clefs that change inside the bar or at its start, with their onset.
    pub clef_changes: Vec<(Fraction, Clef)>,
    pub key: Key,
    /// A key is printed anew in this bar.
    pub key_changes: bool,
    pub transposition: Transposition,
    /// Repeats the bar or bars before ("%"), written as signs instead of notes.
    pub repeats_previous: bool,
    /// Filled with slashes to play on from.
    pub slashes: bool,
    /// What an outline says in place of notes; `None` where notes were read.
    pub sketch: Option<Sketch>,
}

impl Cell {
    /// The clef that a note at `onset` is read in.
    #[must_use]
    pub fn clef_at(&self, onset: Fraction) -> Clef {
        self.clef_changes.iter().rev().find(|(from, _)| *from <= onset).map_or(self.clef, |(_, clef)| *clef)
    }

    /// Whether an outline has the staff play here.
    fn is_planned(&self) -> bool {
        self.sketch.and_then(Sketch::busyness).is_some()
    }

    /// Whether anything is to be played: notes (not cues, planned ones too), a bar-repeat sign or slashes.
    #[must_use]
    pub fn sounds(&self) -> bool {
        self.repeats_previous
            || self.slashes
            || self.is_planned()
            || self.events.iter().any(|event| matches!(event.kind, EventKind::Chord(_)) && !event.cue)
    }

    /// Whether nothing at all is printed but rests: no notes, cues or signs.
    #[must_use]
    pub fn is_silent(&self) -> bool {
        !self.repeats_previous
            && !self.slashes
            && !self.is_planned()
            && self.events.iter().all(|event| matches!(event.kind, EventKind::Rest { .. }) || !event.printed)
    }
}
