//! One bar on one staff.

use super::{Clef, Event, EventKind, Key, StaffMark, Transposition};
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
}

impl Cell {
    /// The clef that a note at `onset` is read in.
    #[must_use]
    pub fn clef_at(&self, onset: Fraction) -> Clef {
        self.clef_changes.iter().rev().find(|(from, _)| *from <= onset).map_or(self.clef, |(_, clef)| *clef)
    }

    /// Whether anything is to be played: notes (not cues), a bar-repeat sign or slashes.
    #[must_use]
    pub fn sounds(&self) -> bool {
        self.repeats_previous
            || self.slashes
            || self.events.iter().any(|event| matches!(event.kind, EventKind::Chord(_)) && !event.cue)
    }

    /// Whether nothing at all is printed but rests: no notes, cues or signs.
    #[must_use]
    pub fn is_silent(&self) -> bool {
        !self.repeats_previous
            && !self.slashes
            && self.events.iter().all(|event| matches!(event.kind, EventKind::Rest { .. }) || !event.printed)
    }
}
