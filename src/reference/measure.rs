//! Measures recorded pages.

use std::collections::BTreeMap;

use super::plate::plates;
use super::{Density, Reference, Spread, SystemsAPage};
use crate::casting_off::{self, Staves};
use crate::geometry::Margins;
use crate::layout::{Layout, Origin, Page, Side};
use crate::metrics::Spacing;
use crate::score::Score;
use crate::survey::{Gap, GapKind, Survey};
use crate::units::{Mm, Spaces};

impl Reference {
    /// Measures what the pages record; `source` says where they come from.
    #[must_use]
    pub fn of(score: &Score, layout: &Layout, survey: &Survey, spacing: &Spacing, source: &str) -> Reference {
        let gaps = |kind| spread(gaps(layout, survey, kind), Spaces);
        let margins = |side| margins(layout, side);
        let sizes = layout.pages.iter().filter(|page| tells(page.size.origin));
        Reference {
            title: score.title.clone().unwrap_or_default(),
            source: source.to_owned(),
            page: most_common(sizes.map(|page| page.size.value)),
            recto: margins(Side::Recto),
            verso: margins(Side::Verso),
            staff_height: most_common(heights(layout)),
            inside_families: gaps(GapKind::Family),
            between_families: gaps(GapKind::Families),
            between_systems: gaps(GapKind::Systems),
            systems_a_page: systems_a_page(score, layout),
            bars_a_system: spread(bars(layout), |bars| bars as u32),
            natural_spacing: natural_spacing(score, layout, spacing),
            silent_staves_left_out: silent_staves_left_out(score, layout),
            density: density(layout, survey),
            plates: plates(layout),
        }
    }
}

/// Rounded as it is written, so that a score and the file measured on it say the same.
fn natural_spacing(score: &Score, layout: &Layout, spacing: &Spacing) -> Option<Spaces> {
    let force = casting_off::natural_force(score, layout, spacing)?;
    Some(Spaces(((Spacing::QUARTER * force).0 * 100.0).round() / 100.0))
}

fn silent_staves_left_out(score: &Score, layout: &Layout) -> Option<bool> {
    let told = layout.systems().any(|(_, _, system)| tells(system.breaks));
    told.then(|| Staves::by_habit(score, layout) == Staves::Playing)
}

fn heights(layout: &Layout) -> impl Iterator<Item = Mm> {
    let staves = layout.systems().flat_map(|(_, _, system)| &system.staves);
    staves.filter(|staff| tells(staff.sized) && staff.lines == 5).map(|staff| staff.height)
}

/// Heights of the gaps whose lower staff stands where the file says, in spaces.
fn gaps(layout: &Layout, survey: &Survey, kind: GapKind) -> Vec<f64> {
    let recorded = |gap: &&Gap| {
        let page = layout.pages.get(gap.page.at());
        let system = page.and_then(|page| page.systems.get(usize::from(gap.system)));
        let staff = system.and_then(|system| system.staves.iter().find(|staff| staff.staff == Some(gap.lower)));
        staff.is_some_and(|staff| tells(staff.placed))
    };
    survey.gaps.iter().filter(|gap| gap.kind == kind).filter(recorded).map(|gap| gap.spaces.0).collect()
}

fn bars(layout: &Layout) -> Vec<f64> {
    let recorded = layout.systems().filter(|(_, _, system)| tells(system.breaks));
    recorded.filter_map(|(_, _, system)| system.span()).map(|span| f64::from(span.count())).collect()
}

/// The last page of a movement holds what is left and tells nothing.
fn systems_a_page(score: &Score, layout: &Layout) -> Vec<SystemsAPage> {
    let is_last = |page: &Page| {
        let last = page.span().map(|span| span.last);
        score.movements.iter().any(|movement| Some(movement.bars.last) == last)
    };
    let told = layout.pages.iter().filter(|page| tells(page.breaks) && !is_last(page));
    by_staves(told.map(|page| page.systems.iter().map(|system| system.staves.len()).collect()))
}

/// How many systems pages hold whose largest has so many staves; of each page, the staves of its systems.
pub(super) fn by_staves(pages: impl Iterator<Item = Vec<usize>>) -> Vec<SystemsAPage> {
    let mut by_staves: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for systems in pages {
        let most = systems.iter().copied().max().unwrap_or(0);
        by_staves.entry(most).or_default().push(systems.len() as f64);
    }
    let one = |(staves, pages): (usize, Vec<f64>)| {
        let count = pages.len() as u32;
        Some(SystemsAPage { staves: staves as u32, pages: count, systems: spread(pages, |systems| systems as u32)? })
    };
    by_staves.into_iter().filter_map(one).collect()
}

/// Of bars between recorded barlines.
fn density(layout: &Layout, survey: &Survey) -> Option<Density> {
    let mut values = Vec::new();
    for (_, _, system) in layout.systems() {
        let staves: Vec<_> = system.staves.iter().filter_map(|staff| staff.staff).collect();
        for bar in system.bars.iter().filter(|bar| tells(bar.placed)).filter_map(|bar| bar.bars) {
            let cells = bar.iter().flat_map(|bar| staves.iter().map(move |staff| (bar, *staff)));
            let dense = cells.filter_map(|(bar, staff)| survey.density.cell(bar, staff).per_100_spaces);
            values.extend(dense.map(f64::from));
        }
    }
    values.sort_by(f64::total_cmp);
    Some(Density {
        half: rank(&values, 0.5)?,
        three_quarters: rank(&values, 0.75)?,
        nineteen_in_twenty: rank(&values, 0.95)?,
    })
}

pub(super) fn spread<T>(mut values: Vec<f64>, unit: impl Fn(f64) -> T) -> Option<Spread<T>> {
    values.sort_by(f64::total_cmp);
    let at = |share| rank(&values, share).map(&unit);
    Some(Spread { tight: at(0.1)?, usual: at(0.5)?, wide: at(0.9)? })
}

/// The smallest value that at least `share` of the sorted values do not exceed.
fn rank(sorted: &[f64], share: f64) -> Option<f64> {
    let rank = (sorted.len() as f64 * share).ceil() as usize;
    sorted.get(rank.saturating_sub(1)).copied()
}

/// The value that occurs most often; the first of several.
pub(super) fn most_common<T: PartialEq>(values: impl Iterator<Item = T>) -> Option<T> {
    let mut counts: Vec<(T, usize)> = Vec::new();
    for value in values {
        match counts.iter_mut().find(|(known, _)| *known == value) {
            Some((_, count)) => *count += 1,
            None => counts.push((value, 1)),
        }
    }
    counts.into_iter().rev().max_by_key(|(_, count)| *count).map(|(value, _)| value)
}

/// Said by the file, or seen on its printed pages.
fn tells(origin: Origin) -> bool {
    matches!(origin, Origin::Recorded | Origin::Measured { .. } | Origin::Matched)
}

/// What most pages of a side record. What is measured tells where the ink ends: the margin is what the fullest pages
/// leave.
pub(super) fn margins(layout: &Layout, side: Side) -> Option<Margins> {
    let own = |page: &&Page| page.side == side && !page.systems.is_empty() && tells(page.margins.origin);
    let told = || layout.pages.iter().filter(own);
    if told().any(|page| page.margins.origin == Origin::Recorded) {
        return most_common(told().map(|page| page.margins.value));
    }
    told().map(|page| page.margins.value).reduce(|one, other| Margins {
        left: one.left.min(other.left),
        right: one.right.min(other.right),
        top: one.top.min(other.top),
        bottom: one.bottom.min(other.bottom),
    })
}
