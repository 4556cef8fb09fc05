//! How far a staff reaches that an outline only sketches.
//!
//! A line is as high as its highest bar, so that these are not typical bars, but between what half of the bars and what
//! half of the lines of open orchestral scores take.

use super::skyline::{Skyline, Where};
use crate::place::{BarIdx, StaffId};
use crate::score::{Busyness, Score, Sketch};

/// Above the top line and below the bottom line, in spaces.
const REACH: [(Busyness, f32, f32); 5] = [
    (Busyness::Still, 0.5, 1.5),
    (Busyness::Calm, 1.2, 2.0),
    (Busyness::Moderate, 2.0, 2.4),
    (Busyness::Busy, 2.7, 2.9),
    (Busyness::VeryBusy, 2.7, 3.7),
];

/// Adds what the planned bars of a staff will take.
pub(super) fn add(score: &Score, staff: StaffId, skyline: &mut Skyline<'_>) {
    for bar in (0..score.bars.len()).map(|at| BarIdx(at as u32)) {
        let planned = score.cell(bar, staff).and_then(|cell| cell.sketch).and_then(Sketch::busyness);
        let Some((_, above, below)) = REACH.iter().find(|(busyness, ..)| Some(*busyness) == planned) else { continue };
        let run = skyline.run_of_bar(bar);
        for part in run.first..=run.last {
            skyline.reach(Where::Above, part, *above);
            skyline.reach(Where::Below, part, *below);
        }
    }
}
