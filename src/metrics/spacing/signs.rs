//! Signs beside the notes, which no force stretches: barlines, repeats, keys, metres, and what begins a system.

use super::{BarSpacing, SpacingRules};
use crate::score::{Bar, Cell};
use crate::units::Spaces;

/// The signs of one bar.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Signs {
    repeats: u8,
    is_double: bool,
    /// Most accidentals of any staff's key.
    key: u8,
    /// The same of the keys printed anew in this bar.
    key_change: u8,
    metre: bool,
    begins_movement: bool,
}

impl Signs {
    pub fn of(bar: &Bar, cells: &[Cell], begins_movement: bool) -> Signs {
        let accidentals = |cell: &Cell| cell.key.fifths.unsigned_abs();
        let changes = cells.iter().filter(|cell| cell.key_changes);
        Signs {
            repeats: u8::from(bar.left.repeat) + u8::from(bar.right.repeat),
            is_double: bar.right.is_double,
            key: cells.iter().map(accidentals).max().unwrap_or(0),
            // A key without accidentals cancels another: at least one natural.
            key_change: changes.map(|cell| accidentals(cell).max(1)).max().unwrap_or(0),
            metre: bar.metre_changes,
            begins_movement,
        }
    }

    /// The fixed widths of the bar, without its columns.
    pub fn spaced(self, rules: &SpacingRules) -> BarSpacing {
        let mut fixed = rules.barline + rules.repeat * f64::from(self.repeats);
        if self.is_double {
            fixed += rules.double_bar;
        }
        let key = rules.start_key * f64::from(self.key);
        if self.begins_movement {
            let metre = if self.metre { rules.start_metre } else { Spaces::ZERO };
            return BarSpacing { fixed: fixed + metre, start: rules.start + key, ..BarSpacing::default() };
        }
        let metre = if self.metre { rules.metre_change } else { Spaces::ZERO };
        let key_change = rules.key_change * f64::from(self.key_change);
        BarSpacing {
            fixed: fixed + metre + key_change,
            // A key that changes here stands at the start of the system anyway.
            start: rules.start + key - key_change,
            announced: metre + key_change,
            ..BarSpacing::default()
        }
    }
}
