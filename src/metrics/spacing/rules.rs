//! The constants of horizontal spacing.

use crate::units::Spaces;

/// How wide things are set, in staff spaces.
///
/// The values that ship are fitted on the recorded bar widths of 18 open orchestral movements:
/// `cargo run --release --example accuracy -- FOLDER` fits them anew and prints them beside these. A multi-bar rest is
/// from memory, since none stands in those files; syllables stand in few of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpacingRules {
    /// Twice as long takes two to this power as much room.
    pub power: f64,
    /// A column holds at least a notehead and a little air.
    pub head: Spaces,
    /// Before and after a barline.
    pub barline: Spaces,
    /// What a double barline takes more.
    pub double_bar: Spaces,
    /// Each column of accidentals before a note.
    pub accidental: Spaces,
    /// The same just after a barline.
    pub accidental_after_barline: Spaces,
    /// Grace notes, each.
    pub grace: Spaces,
    pub arpeggio: Spaces,
    /// A dot.
    pub dot: Spaces,
    /// A flag on an upward stem.
    pub flag: Spaces,
    /// Two heads of one chord side by side.
    pub second: Spaces,
    /// What two neighbours need more when their ledger lines would meet.
    pub ledgers: Spaces,
    /// Size of the type of syllables (the em of the report's text font).
    pub syllable_size: Spaces,
    /// Between two syllables.
    pub syllable_gap: Spaces,
    /// A bar in which nobody plays stretches like one note of its length, and is no shorter than this.
    pub empty_bar: Spaces,
    /// A multi-bar rest.
    pub multi_bar_rest: Spaces,
    /// A clef that changes.
    pub clef_change: Spaces,
    /// A metre that changes.
    pub metre_change: Spaces,
    /// A key that changes: for each accidental.
    pub key_change: Spaces,
    /// A repeat sign.
    pub repeat: Spaces,
    /// Clef and air at the start of a system.
    pub start: Spaces,
    /// Each accidental of the key at the start of a system.
    pub start_key: Spaces,
    /// The metre at the start of a movement.
    pub start_metre: Spaces,
}

/// Room of a quarter note at force 1 (Gould, Behind Bars, p. 39, second-hand).
pub(super) const QUARTER: f64 = 3.5;

impl SpacingRules {
    /// Room of one note at force 1, its length in quarters.
    pub(super) fn spring(&self, quarters: f64) -> f64 {
        if quarters > 0.0 { QUARTER * libm::pow(quarters, self.power) } else { 0.0 }
    }
}

impl Default for SpacingRules {
    fn default() -> Self {
        SpacingRules {
            power: 0.55,
            head: Spaces(1.53),
            barline: Spaces(2.32),
            double_bar: Spaces(0.45),
            accidental: Spaces(1.06),
            accidental_after_barline: Spaces(0.44),
            grace: Spaces(2.08),
            arpeggio: Spaces(0.46),
            dot: Spaces(0.72),
            flag: Spaces(1.14),
            second: Spaces(1.29),
            ledgers: Spaces(0.59),
            syllable_size: Spaces(1.7),
            syllable_gap: Spaces(0.5),
            empty_bar: Spaces(5.68),
            multi_bar_rest: Spaces(12.0),
            clef_change: Spaces(2.69),
            metre_change: Spaces(2.8),
            key_change: Spaces(1.31),
            repeat: Spaces(1.88),
            start: Spaces(5.69),
            start_key: Spaces(1.01),
            start_metre: Spaces(2.38),
        }
    }
}
