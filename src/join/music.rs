//! What of the music can be seen on pages: bar numbers, and how many note heads stand in each bar.

use crate::place::{BarIdx, StaffId};
use crate::score::{EventKind, Score};

/// One entry a bar.
pub(super) struct Expected {
    pub bars: Vec<ExpectedBar>,
}

#[derive(Clone, Debug, Default)]
pub(super) struct ExpectedBar {
    pub label: String,
    /// Printed note heads on all staves.
    pub heads: u32,
    /// Nothing is printed but rests.
    pub is_silent: bool,
}

impl Expected {
    pub fn of(score: &Score) -> Expected {
        let bar = |at: usize| {
            let bar = BarIdx(at as u32);
            let staves = (0..score.staves.len()).map(|staff| StaffId(staff as u16));
            let cells: Vec<_> = staves.filter_map(|staff| score.cell(bar, staff)).collect();
            let heads = cells.iter().flat_map(|cell| &cell.events).filter(|event| event.printed).map(|event| {
                match &event.kind {
                    EventKind::Chord(notes) => notes.len() as u32,
                    EventKind::Rest { .. } => 0,
                }
            });
            ExpectedBar {
                label: score.label(bar).to_owned(),
                heads: heads.sum(),
                is_silent: cells.iter().all(|cell| cell.is_silent()),
            }
        };
        Expected { bars: (0..score.bars.len()).map(bar).collect() }
    }

    pub fn get(&self, bar: usize) -> Option<&ExpectedBar> {
        self.bars.get(bar)
    }
}
