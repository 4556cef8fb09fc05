//! From the plan and the music to measures on paper.

use rastrum::units::Spaces;

use crate::extents::{self, Extent};
use crate::orchestra::{Staff, part_of};
use crate::paper::{self, rounded, whole_tenths};
use crate::plan::{Gaps, PagePlan, SystemPlan, pages};
use crate::score::Movement;
use crate::spacing::natural_width;

pub struct PageLayout {
    pub number: usize,
    /// From the top margin to the bottom margin.
    pub height: Spaces,
    pub systems: Vec<SystemLayout>,
}

pub struct SystemLayout {
    pub first_bar: usize,
    pub last_bar: usize,
    pub staves: Vec<Staff>,
    pub divider: bool,
    pub indent: Spaces,
    /// From the top margin, or from the bottom line of the system above, to the top line.
    pub distance: Spaces,
    /// Between neighbouring staves, bottom line to top line.
    pub gaps: Vec<Spaces>,
    pub widths: Vec<Spaces>,
    /// What the contents of each gap take, clearance left out.
    pub contents: Vec<Spaces>,
    /// What the contents take above the top line and below the bottom line.
    pub over_top: Spaces,
    pub under_foot: Spaces,
}

/// Spaces that stay white between the contents of neighbouring staves.
pub const CLEARANCE: Spaces = Spaces(1.0);
/// The least gap between silent staves, and between families.
const LEAST_INSIDE: Spaces = Spaces(4.6);
/// Least room between the top margin and the top staff, for bar numbers.
const LEAST_TOP: Spaces = Spaces(5.5);
/// Least room between the bottom staff and the bottom margin.
const LEAST_FOOT: Spaces = Spaces(4.0);
/// Gaps between families against the common gap inside them, and against the widest one.
const FAMILY_RATIO: f64 = 1.3;
const FAMILY_RATIO_TO_WIDEST: f64 = 1.2;
/// The title and the list of players need this much of the first page below its top margin.
const TITLE_BLOCK: Spaces = Spaces(31.0);
const MOVEMENT_TITLE: Spaces = Spaces(15.0);

pub fn lay_out(movement: &Movement) -> Vec<PageLayout> {
    let extents = extents::table(movement);
    pages(movement).iter().map(|plan| page(movement, plan, &extents)).collect()
}

impl PageLayout {
    pub fn first_bar(&self) -> usize {
        self.systems[0].first_bar
    }

    pub fn holds(&self, bar: usize) -> bool {
        self.systems.iter().any(|system| (system.first_bar..=system.last_bar).contains(&bar))
    }
}

impl SystemLayout {
    /// From the top line of the top staff to the bottom line of the bottom staff.
    pub fn height(&self) -> Spaces {
        sum(&self.gaps) + paper::STAFF * self.staves.len() as f64
    }

    pub fn is_between_families(&self, gap: usize) -> bool {
        between_families(&self.staves, gap)
    }
}

fn between_families(staves: &[Staff], gap: usize) -> bool {
    part_of(staves[gap]).family != part_of(staves[gap + 1]).family
}

fn page(movement: &Movement, plan: &PagePlan, extents: &[Vec<Extent>]) -> PageLayout {
    let height = paper::usable_height(movement.staff_mm());
    let mut systems: Vec<SystemLayout> = plan.systems.iter().map(|system| across(movement, system, extents)).collect();
    let title = match plan.systems[0].first_bar {
        1 if movement.number == 1 => TITLE_BLOCK,
        1 => MOVEMENT_TITLE,
        _ => Spaces::ZERO,
    };
    for (at, system) in systems.iter_mut().enumerate() {
        system.distance = title + whole_tenths((system.over_top + CLEARANCE).max(LEAST_TOP));
        match plan.gaps {
            Gaps::Fixed { inside, between, systems } => {
                system.gaps = even(&system.staves, inside, between / inside);
                if at > 0 {
                    system.distance = systems;
                }
            }
            Gaps::Fitted | Gaps::Crowded => {
                let foot = plan.foot.unwrap_or((system.under_foot + CLEARANCE).max(LEAST_FOOT));
                let room = height - system.distance - foot - paper::STAFF * system.staves.len() as f64;
                system.gaps = fill(system, plan, room);
            }
        }
    }
    PageLayout { number: plan.number, height, systems }
}

/// Gaps that together take `room`: the greatest equal base that fits, found by halving.
fn fill(system: &SystemLayout, plan: &PagePlan, room: Spaces) -> Vec<Spaces> {
    let with_base = |base: Spaces| -> Vec<Spaces> {
        let mut gaps = even(&system.staves, base, FAMILY_RATIO);
        if plan.gaps == Gaps::Fitted {
            hold_contents(system, &mut gaps);
        }
        if let Some((staff, gap)) = plan.pinned
            && let Some(at) = system.staves[..gaps.len()].iter().position(|own| *own == staff)
        {
            gaps[at] = gap;
        }
        gaps
    };
    let (mut low, mut high) = (if plan.gaps == Gaps::Fitted { LEAST_INSIDE } else { Spaces(3.0) }, Spaces(12.0));
    assert!(sum(&with_base(low)) <= room, "page {} cannot hold its contents", plan.number);
    for _ in 0..30 {
        let middle = (low + high) / 2.0;
        if sum(&with_base(middle)) <= room { low = middle } else { high = middle }
    }
    let mut gaps = with_base(low);
    let spare = room - sum(&gaps);
    let families: Vec<usize> = (0..gaps.len()).filter(|&at| system.is_between_families(at)).collect();
    for &at in &families {
        gaps[at] += whole_tenths(spare / families.len() as f64);
    }
    gaps
}

/// Widens gaps to hold their contents, then those between families so that they stay the wider ones.
fn hold_contents(system: &SystemLayout, gaps: &mut [Spaces]) {
    for (gap, contents) in gaps.iter_mut().zip(&system.contents) {
        *gap = gap.max(whole_tenths(*contents + CLEARANCE));
    }
    let inside = (0..gaps.len()).filter(|&at| !system.is_between_families(at));
    let widest = inside.map(|at| gaps[at]).fold(Spaces::ZERO, Spaces::max);
    for at in (0..gaps.len()).filter(|&at| system.is_between_families(at)) {
        gaps[at] = gaps[at].max(whole_tenths(widest * FAMILY_RATIO_TO_WIDEST));
    }
}

fn even(staves: &[Staff], inside: Spaces, ratio: f64) -> Vec<Spaces> {
    let gap = |at| if between_families(staves, at) { whole_tenths(inside * ratio) } else { whole_tenths(inside) };
    (0..staves.len() - 1).map(gap).collect()
}

fn sum(lengths: &[Spaces]) -> Spaces {
    lengths.iter().copied().sum()
}

/// Widths and extents of one system; its distances are not yet known.
fn across(movement: &Movement, plan: &SystemPlan, extents: &[Vec<Extent>]) -> SystemLayout {
    let indent = if plan.first_bar == 1 { paper::INDENT_FULL } else { paper::INDENT_SHORT };
    let bars = plan.first_bar..=plan.last_bar;
    let natural: Vec<Spaces> = bars.clone().map(|bar| natural_width(movement, bar)).collect();
    let line = paper::line_width(movement.staff_mm()) - indent;
    let stretch = (line - paper::SYSTEM_START) / sum(&natural);
    let mut widths: Vec<Spaces> = natural.iter().map(|&width| rounded(width * stretch)).collect();
    widths[0] = rounded(widths[0] + paper::SYSTEM_START);
    let others = sum(&widths[..widths.len() - 1]);
    if let Some(last) = widths.last_mut() {
        *last = rounded(line - others);
    }
    let staves = plan.shown.staves(movement.has_bell());
    let most = |of: &dyn Fn(&[Extent]) -> Spaces| {
        bars.clone().map(|bar| of(&extents[bar - 1])).fold(Spaces::ZERO, Spaces::max)
    };
    let contents = staves.windows(2).map(|pair| most(&|bar| bar[pair[0]].below + bar[pair[1]].above)).collect();
    let (top, foot) = (staves[0], staves[staves.len() - 1]);
    SystemLayout {
        first_bar: plan.first_bar,
        last_bar: plan.last_bar,
        divider: plan.divider,
        indent,
        distance: Spaces::ZERO,
        gaps: Vec::new(),
        widths,
        contents,
        over_top: most(&|bar| bar[top].above),
        under_foot: most(&|bar| bar[foot].below),
        staves,
    }
}
