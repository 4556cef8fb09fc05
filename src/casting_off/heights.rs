//! The staves of a system above each other.

use super::staves::{self, StaffState};
use super::{Source, lines::Line, told_or};
use crate::layout::{BarRecord, Known, Origin, PrintedStaff, StaffRecord};
use crate::place::BarSpan;
use crate::units::{Mm, Spaces};

/// A system's staves, not yet on a page.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Stack {
    /// From the top, their tops counted from the first one's.
    staves: Vec<PrintedStaff>,
    /// From the first staff's top line to the last staff's bottom line.
    pub height: Mm,
    /// From the bottom line of the system above.
    pub distance: Known<Mm>,
    /// From the page's top margin, where it is the first of a page.
    pub top_distance: Known<Mm>,
}

impl Stack {
    /// The staves with the first one's top line at `top`, which was found as `placed` says.
    pub fn staves_at(&self, top: Mm, placed: Origin) -> Vec<PrintedStaff> {
        let at = |(nth, staff): (usize, &PrintedStaff)| PrintedStaff {
            top: (top + staff.top).rounded(),
            height: staff.height.rounded(),
            placed: if nth == 0 { placed } else { staff.placed },
            ..staff.clone()
        };
        self.staves.iter().enumerate().map(at).collect()
    }
}

/// One stack a line.
pub(super) fn stacks(source: &Source, lines: &[Line]) -> Vec<Stack> {
    let shown = staves::shown(source, lines);
    let mut above: Option<(StaffState, BarSpan)> = None;
    let mut stacks = Vec::with_capacity(lines.len());
    for (line, states) in lines.iter().zip(&shown) {
        stacks.push(stack(source, line, states, above));
        above = states.last().map(|last| (*last, line.bars));
    }
    stacks
}

fn stack(source: &Source, line: &Line, states: &[StaffState], above: Option<(StaffState, BarSpan)>) -> Stack {
    let record = source.record(line.bars.first);
    let distances = recorded_distances(source, record);
    let mut staves: Vec<PrintedStaff> = Vec::with_capacity(states.len());
    let mut bottom = Mm::ZERO;
    let mut upper: Option<&StaffState> = None;
    for state in states {
        let height = source.staff_height.value * state.scale;
        let distance = match upper {
            None => Known::recorded(Mm::ZERO),
            Some(upper) => told_or(distances.get(state.staff.at()).copied().flatten(), None, || {
                estimated_gap(source, upper, state, line.bars)
            }),
        };
        let top = bottom + distance.value;
        let staff = PrintedStaff {
            staff: Some(state.staff),
            lines: state.lines,
            top,
            height,
            role: state.role,
            placed: distance.origin,
            sized: source.staff_height.origin,
        };
        // Distances are counted from the last line drawn: a single line has no height of its own.
        bottom = staff.bottom();
        staves.push(staff);
        upper = Some(state);
    }
    let first = states.first();
    let distance = told_or(record.system.distance, source.defaults.system.distance, || {
        estimated_system_gap(source, above, first, line.bars)
    });
    let top_distance = told_or(record.system.top_distance, source.defaults.system.top_distance, || {
        first.map_or(Mm::ZERO, |first| source.mm(above_in(source, first, line.bars)))
    });
    Stack { staves, height: bottom, distance, top_distance }
}

/// By staff: what this system's first bar says, else the movement's defaults.
fn recorded_distances(source: &Source, record: &BarRecord) -> Vec<Option<Mm>> {
    let mut distances = vec![None; source.score.staves.len()];
    for (staff, said) in source.defaults.staves.iter().chain(&record.staves) {
        let StaffRecord { distance: Some(distance), .. } = said else { continue };
        if let Some(slot) = distances.get_mut(staff.at()) {
            *slot = Some(*distance);
        }
    }
    distances
}

/// The house's gap, or what the contents need where they need more.
fn estimated_gap(source: &Source, upper: &StaffState, lower: &StaffState, bars: BarSpan) -> Mm {
    let house = source.house;
    let family = |state: &StaffState| source.score.part_of(state.staff).map(|part| part.family);
    let factor = if family(upper) == family(lower) { 1.0 } else { house.family_factor };
    let extents = &source.metrics.extents;
    let needed = |bar| extents.needed(bar, upper.size(), lower.size());
    let needed = bars.iter().map(needed).fold(Spaces::ZERO, Spaces::max);
    source.mm((house.staff_gap * factor).max(needed + house.clearance))
}

fn estimated_system_gap(
    source: &Source,
    above: Option<(StaffState, BarSpan)>,
    first: Option<&StaffState>,
    bars: BarSpan,
) -> Mm {
    let below = above.map_or(Spaces::ZERO, |(state, bars)| {
        let extents = &source.metrics.extents;
        bars.iter().map(|bar| extents.at(bar, state.staff).below * state.scale).fold(Spaces::ZERO, Spaces::max)
    });
    let above = first.map_or(Spaces::ZERO, |state| above_in(source, state, bars));
    source.mm(source.house.system_gap.max(below + above + source.house.clearance))
}

/// The highest thing above a staff, in spaces of the movement's unscaled staff.
fn above_in(source: &Source, state: &StaffState, bars: BarSpan) -> Spaces {
    let extents = &source.metrics.extents;
    let above = |bar| extents.at(bar, state.staff).above * state.scale;
    bars.iter().map(above).fold(Spaces::ZERO, Spaces::max)
}
