//! Which staves a system shows, how many lines they have and how large they are.

use super::Source;
use super::lines::Line;
use crate::layout::{BarRecord, StaffRole};
use crate::metrics::StaffSize;
use crate::place::{BarSpan, StaffId};

/// What holds for one staff from one bar on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct StaffState {
    pub staff: StaffId,
    pub shown: bool,
    pub lines: u8,
    /// Against the movement's staff height.
    pub scale: f64,
    pub role: StaffRole,
}

impl StaffState {
    pub fn size(&self) -> StaffSize {
        StaffSize { staff: self.staff, scale: self.scale, lines: self.lines }
    }
}

/// For each line the staves that it shows, from the top. A line is never left without any.
pub(super) fn shown(source: &Source, lines: &[Line]) -> Vec<Vec<StaffState>> {
    let mut states = first_states(source);
    let lasting = hiding_lasts(source);
    let per_line = lines.iter().map(|line| {
        let mut at_start = Vec::new();
        for bar in line.bars.iter() {
            let starts = bar == line.bars.first;
            if starts && !lasting {
                states.iter_mut().for_each(|state| state.shown = true);
            }
            apply(source.record(bar), starts || lasting, &mut states);
            if starts {
                at_start = states.clone();
            }
        }
        at_start
    });
    let absent = absent_staves(source);
    per_line.map(|states| keep_shown(states, &absent)).collect()
}

pub(super) fn first_states(source: &Source) -> Vec<StaffState> {
    let new = |at| StaffState { staff: StaffId(at as u16), shown: true, lines: 5, scale: 1.0, role: StaffRole::Normal };
    let mut states: Vec<StaffState> = (0..source.score.staves.len()).map(new).collect();
    apply(source.defaults, true, &mut states);
    states
}

/// Files that never say "shown" repeat "hidden" at each system; in the others it holds until taken back.
fn hiding_lasts(source: &Source) -> bool {
    let says_shown = |record: &BarRecord| record.staves.iter().any(|(_, staff)| staff.shown == Some(true));
    source.movement.bars.iter().any(|bar| says_shown(source.record(bar)))
}

pub(super) fn apply(record: &BarRecord, with_hiding: bool, states: &mut [StaffState]) {
    for (staff, said) in &record.staves {
        let Some(state) = states.get_mut(staff.at()) else { continue };
        if with_hiding {
            state.shown = said.shown.unwrap_or(state.shown);
        }
        state.lines = said.lines.unwrap_or(state.lines);
        state.scale = said.scale.filter(|scale| *scale > 0.0 && scale.is_finite()).unwrap_or(state.scale);
        state.role = said.role.unwrap_or(state.role);
    }
}

/// In a work of several movements, staves on which this one has not even a rest (in an outline: no note) belong to the others.
pub(super) fn absent_staves(source: &Source) -> Vec<bool> {
    let count = source.score.staves.len();
    let mut absent = vec![source.score.movements.len() > 1; count];
    let BarSpan { first, last } = source.movement.bars;
    let cells = source.score.cells.get(first.at() * count..(last.at() + 1) * count).unwrap_or_default();
    for bar in cells.chunks(count.max(1)) {
        for (absent, cell) in absent.iter_mut().zip(bar) {
            *absent &= cell.events.is_empty() && cell.is_silent();
        }
    }
    absent
}

fn keep_shown(states: Vec<StaffState>, absent: &[bool]) -> Vec<StaffState> {
    let is_absent = |state: &StaffState| absent.get(state.staff.at()).copied().unwrap_or(false);
    let kept: Vec<StaffState> = states.iter().copied().filter(|state| state.shown && !is_absent(state)).collect();
    if kept.is_empty() { states } else { kept }
}
