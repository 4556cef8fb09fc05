//! Signs beside the notes, which no force stretches.

use super::{BarSpacing, SpacingRules};
use crate::place::BarIdx;
use crate::score::{Cell, Score};
use crate::units::Spaces;

/// The fixed widths of one bar, without its columns.
pub(super) fn of(score: &Score, bar: BarIdx, rules: &SpacingRules) -> BarSpacing {
    let Some(own) = score.bar(bar) else { return BarSpacing::default() };
    let count = score.staves.len();
    let cells = score.cells.get(bar.at() * count..(bar.at() + 1) * count).unwrap_or_default();
    let begins_movement = score.movements.iter().any(|movement| movement.bars.first == bar);

    let key = most(cells, |cell| cell.key.fifths.unsigned_abs());
    let changed = most(cells, |cell| if cell.key_changes { cell.key.fifths.unsigned_abs().max(1) } else { 0 });
    let clefs = cells.iter().any(|cell| !cell.clef_changes.is_empty());
    let repeats = [own.left.repeat, own.right.repeat].into_iter().filter(|repeat| *repeat).count();

    let mut fixed = rules.barline + rules.repeat * repeats as f64;
    fixed += when(clefs, rules.clef_change);
    let metre = when(own.metre_changes, if begins_movement { rules.start_metre } else { rules.metre_change });
    let key_change = when(!begins_movement, rules.key_change * changed);
    fixed += metre + key_change;
    BarSpacing {
        fixed,
        // A key that changes here stands at the start anyway.
        start: rules.start + rules.start_key * key - key_change,
        announced: when(!begins_movement && own.metre_changes, rules.metre_change) + key_change,
        ..BarSpacing::default()
    }
}

fn most(cells: &[Cell], of: impl Fn(&Cell) -> u8) -> f64 {
    f64::from(cells.iter().map(of).max().unwrap_or(0))
}

fn when(holds: bool, width: Spaces) -> Spaces {
    if holds { width } else { Spaces::ZERO }
}
