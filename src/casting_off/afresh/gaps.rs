//! How high systems are: staves, and between them what their contents need.

use crate::casting_off::House;
use crate::casting_off::staves::StaffState;
use crate::metrics::Extents;
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::score::Score;
use crate::units::Spaces;

/// High systems stand further apart: with 8 spaces two of twelve staves looked like one of twenty-four.
const SEEN_APART: f64 = 1.5;

/// Room between two staves that stand above each other.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Gap {
    /// What the contents need with the house's clearance, never below the guidelines' least gap.
    pub least: Spaces,
    /// What the house likes.
    pub usual: Spaces,
}

/// Heights that a system takes on a page.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Heights {
    /// From its first staff's top line to its last staff's bottom line, with the gaps that the house likes or, where
    /// they need more, those that their contents need.
    pub lines: Spaces,
    /// The same with the least gaps.
    pub least: Spaces,
    /// Contents above the first and below the last staff.
    pub above: Spaces,
    pub below: Spaces,
    /// The widest of its gaps; the gap to its neighbours is no narrower.
    pub widest: Spaces,
    /// What the house likes between it and its neighbours.
    pub apart: Spaces,
}

/// Measures systems of any staves and bars of one movement.
pub(super) struct Gauge<'a> {
    pub score: &'a Score,
    pub extents: &'a Extents,
    pub house: &'a House,
    bars: BarSpan,
    /// Every pair of staves that was asked for.
    pairs: Vec<Pair>,
    /// By upper staff: lower staff and its pair.
    by_upper: Vec<Vec<(usize, usize)>>,
}

struct Pair {
    /// Without contents.
    bare: Gap,
    /// Contents, bar by bar of the movement.
    needed: Vec<f32>,
}

/// Staves above each other.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Stack {
    pub staves: Vec<StaffState>,
    pairs: Vec<usize>,
    /// Heights of all staves together.
    lines: Spaces,
}

impl Stack {
    /// Heights of all staves together.
    pub fn lines(&self) -> Spaces {
        self.lines
    }
}

impl<'a> Gauge<'a> {
    pub fn new(score: &'a Score, extents: &'a Extents, house: &'a House, bars: BarSpan) -> Gauge<'a> {
        let by_upper = vec![Vec::new(); score.staves.len()];
        Gauge { score, extents, house, bars, pairs: Vec::new(), by_upper }
    }

    /// Prepares to measure these staves, from the top.
    pub fn stack(&mut self, staves: Vec<StaffState>) -> Stack {
        let pairs = staves.windows(2).filter_map(|pair| {
            let [upper, lower] = pair else { return None };
            Some(self.pair(upper, lower))
        });
        let pairs = pairs.collect();
        let lines = staves.iter().map(|state| Spaces(f64::from(state.lines.saturating_sub(1)) * state.scale)).sum();
        Stack { staves, pairs, lines }
    }

    fn pair(&mut self, upper: &StaffState, lower: &StaffState) -> usize {
        let known = self.by_upper.get(upper.staff.at()).into_iter().flatten();
        if let Some((_, pair)) = known.copied().find(|(other, _)| *other == lower.staff.at()) {
            return pair;
        }
        let factor = if same_family(self.score, upper.staff, lower.staff) { 1.0 } else { self.house.family_factor };
        let needed = self.bars.iter().map(|bar| self.extents.needed(bar, upper.size(), lower.size()).0 as f32);
        let bare = Gap { least: self.house.least_gap * factor, usual: self.house.staff_gap * factor };
        self.pairs.push(Pair { bare, needed: needed.collect() });
        let pair = self.pairs.len() - 1;
        if let Some(known) = self.by_upper.get_mut(upper.staff.at()) {
            known.push((lower.staff.at(), pair));
        }
        pair
    }

    /// The gaps of a system of these bars, from the top.
    pub fn gaps(&self, stack: &Stack, bars: BarSpan) -> impl Iterator<Item = Gap> {
        let first = bars.first.0.saturating_sub(self.bars.first.0) as usize;
        let range = first..first + bars.count() as usize;
        stack.pairs.iter().filter_map(|pair| self.pairs.get(*pair)).map(move |pair| {
            let needed = pair.needed.get(range.clone()).unwrap_or_default();
            let most = needed.iter().copied().fold(0.0, f32::max);
            let contents = if most > 0.0 { Spaces(f64::from(most)) + self.house.clearance } else { Spaces::ZERO };
            Gap { least: pair.bare.least.max(contents), usual: pair.bare.usual }
        })
    }

    /// How high a system of these bars is.
    pub fn heights(&self, stack: &Stack, bars: BarSpan) -> Heights {
        let mut heights = Heights { lines: stack.lines, least: stack.lines, ..Heights::default() };
        for gap in self.gaps(stack, bars) {
            let own = gap.usual.max(gap.least);
            heights.lines += own;
            heights.least += gap.least;
            heights.widest = heights.widest.max(own);
        }
        let most = |parts: &dyn Fn(BarIdx) -> [Spaces; crate::metrics::PARTS]| {
            bars.iter().flat_map(parts).fold(Spaces::ZERO, Spaces::max)
        };
        heights.apart = apart(self.house, stack.staves.len());
        if let Some((top, bottom)) = stack.staves.first().zip(stack.staves.last()) {
            heights.above = most(&|bar| self.extents.above_in_parts(bar, top.size()));
            heights.below = most(&|bar| self.extents.below_in_parts(bar, bottom.size()));
        }
        heights
    }

    /// Between two systems that stand above each other: wider than any gap inside them.
    pub fn between(&self, upper: &Heights, lower: &Heights) -> Spaces {
        between(self.house, upper, lower)
    }
}

/// What a house likes between a system of so many staves and its neighbours.
pub(super) fn apart(house: &House, staves: usize) -> Spaces {
    house.system_gap * if staves >= house.dividers_from as usize { SEEN_APART } else { house.low_systems }
}

/// The least gap between two systems of a house.
pub(super) fn between(house: &House, upper: &Heights, lower: &Heights) -> Spaces {
    let contents = upper.below + lower.above + house.clearance;
    upper.apart.max(lower.apart).max(upper.widest).max(lower.widest).max(contents)
}

/// Where a part's family is not known nobody can say that one ends here.
pub(super) fn same_family(score: &Score, one: StaffId, other: StaffId) -> bool {
    use crate::score::Family;
    let family = |staff| score.part_of(staff).map_or(Family::Unknown, |part| part.family);
    let (one, other) = (family(one), family(other));
    one == other || one == Family::Unknown || other == Family::Unknown
}
