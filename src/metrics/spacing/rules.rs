//! The constants of horizontal spacing.

use crate::units::Spaces;

/// How wide things are set. Fitted on open scores where not said otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpacingRules {
    /// Twice as long takes two to this power as much room.
    pub power: f64,
    /// A column holds at least a notehead and a little air.
    pub head: Spaces,
    /// Before and after a barline.
    pub barline: Spaces,
    /// A column with an accidental.
    pub accidental: Spaces,
    /// Grace notes, each.
    pub grace: Spaces,
    /// A dot.
    pub dot: Spaces,
    /// A flag.
    pub flag: Spaces,
    /// Two heads of one chord side by side.
    pub second: Spaces,
    /// Least room of two neighbours that both have ledger lines.
    pub ledgers: Spaces,
    /// A bar in which nobody plays.
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

impl Default for SpacingRules {
    fn default() -> Self {
        SpacingRules {
            power: 0.55,
            head: Spaces(1.6),
            barline: Spaces(1.7),
            accidental: Spaces(0.5),
            grace: Spaces(0.85),
            dot: Spaces(0.3),
            flag: Spaces(0.0),
            second: Spaces(0.5),
            ledgers: Spaces(2.0),
            empty_bar: Spaces(6.0),
            multi_bar_rest: Spaces(12.0),
            clef_change: Spaces(1.5),
            metre_change: Spaces(2.5),
            key_change: Spaces(0.64),
            repeat: Spaces(1.8),
            start: Spaces(5.3),
            start_key: Spaces(1.0),
            start_metre: Spaces(2.7),
        }
    }
}
