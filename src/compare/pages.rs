//! The pages of two drafts, over the bars that both have: how many, how full, how dense, what lies open together.

use std::collections::BTreeMap;

use super::{Matched, Music};
use crate::layout::{Layout, Origin, Page, PageKind};
use crate::place::{BarIdx, BarSpan, PageIdx, StaffId};
use crate::survey::{GapKind, Survey};
use crate::units::{Mm, Spaces};

/// The pages of one draft.
#[derive(Clone, Copy, Debug)]
pub struct Leaves<'a> {
    pub layout: &'a Layout,
    pub survey: &'a Survey,
}

/// What can be said of the pages of a draft in numbers. What is not known is `None`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figures {
    pub pages: usize,
    pub systems: usize,
    /// Pages with two systems or more.
    pub split: usize,
    /// Smallest and largest five-line staff.
    pub staff_height: Option<(Mm, Mm)>,
    /// The middle one of them.
    pub usual_staff: Option<Mm>,
    /// The middle one of the gaps inside families, between families, between systems.
    pub gaps: [Option<Spaces>; 3],
    /// The middle one of the systems: width over natural width.
    pub stretch: Option<f64>,
    /// The middle one of the pages' dense ends, symbols per 100 spaces of sounding staff.
    pub density: Option<f64>,
    /// How the weakest of its page breaks was found.
    pub footing: Option<Origin>,
}

/// A page of the new draft and the one that held most of it.
#[derive(Clone, Debug, PartialEq)]
pub struct PagePair {
    pub old: Option<PageIdx>,
    pub new: Option<PageIdx>,
    /// Bars that stand on both.
    pub common: usize,
    /// How much they differ, from 0 (the same bars in the same systems, at the same density) up.
    pub differs: f64,
}

/// Bars in a row whose density changed beyond doubt.
#[derive(Clone, Debug, PartialEq)]
pub struct DensityChange {
    /// In the new draft.
    pub bars: BarSpan,
    /// In the old draft, of the same bars.
    pub old_bars: BarSpan,
    /// Mean of the bars, symbols per 100 spaces of sounding staff.
    pub old: f64,
    pub new: f64,
}

/// Pages of two drafts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pages {
    pub old: Figures,
    pub new: Figures,
    /// Every page of the new draft, then those of the old one that have no partner.
    pub pairs: Vec<PagePair>,
    pub density: Vec<DensityChange>,
    /// Bars of both drafts that lie open beside other music than before.
    pub other_opening: usize,
}

/// Density that differs by less is noise: recorded and measured pages repeat to a few parts in a hundred, estimated widths
/// of bars are off by up to a tenth (accuracy program).
const NOISE: f64 = 0.10;
const NOISE_OF_ESTIMATES: f64 = 0.20;
/// Fewer bars in a row are no passage.
const A_PASSAGE: usize = 2;

/// Compares the pages of two drafts; without music, page by page.
#[must_use]
pub fn pages(old: &Leaves<'_>, new: &Leaves<'_>, music: Option<(&Music, &Matched)>) -> Pages {
    let (before, after) = (figures(old), figures(new));
    let Some((music, matched)) = music else {
        let pairs = by_number(old, new);
        return Pages { old: before, new: after, pairs, density: Vec::new(), other_opening: 0 };
    };
    let estimated = [&before, &after].iter().any(|own| own.footing == Some(Origin::Estimated));
    let noise = if estimated { NOISE_OF_ESTIMATES } else { NOISE };
    let density = density(old, new, music, noise);
    Pages {
        pairs: by_bars(old, new, matched, &density),
        density,
        other_opening: other_opening(old, new, matched),
        old: before,
        new: after,
    }
}

fn figures(own: &Leaves<'_>) -> Figures {
    let Leaves { layout, survey } = own;
    // Parts that stand in the same file are no pages of the score.
    let of_score = || layout.pages.iter().filter(|page| page.kind != PageKind::Part);
    let systems = || of_score().flat_map(|page| &page.systems);
    let staves = systems().flat_map(|system| &system.staves).filter(|staff| staff.lines == 5);
    let heights: Vec<Mm> = staves.map(|staff| staff.height).collect();
    let gap = |kind: GapKind| {
        middle(survey.gaps.iter().filter(|gap| gap.kind == kind).map(|gap| gap.spaces.0).collect()).map(Spaces)
    };
    Figures {
        pages: of_score().filter(|page| !page.systems.is_empty()).count(),
        systems: systems().count(),
        split: of_score().filter(|page| page.systems.len() > 1).count(),
        staff_height: heights.iter().copied().reduce(Mm::min).zip(heights.iter().copied().reduce(Mm::max)),
        usual_staff: middle(heights.iter().map(|height| height.0).collect()).map(Mm),
        gaps: [GapKind::Family, GapKind::Families, GapKind::Systems].map(gap),
        stretch: middle(systems().filter_map(|system| system.stretch).collect()),
        density: middle(survey.pages.iter().filter_map(|page| page.density).collect()),
        footing: Origin::weakest(layout.pages.iter().map(|page| page.breaks)),
    }
}

/// The middle one; of two, the smaller.
fn middle(mut values: Vec<f64>) -> Option<f64> {
    values.sort_unstable_by(f64::total_cmp);
    values.get(values.len().checked_sub(1)? / 2).copied()
}

/// Page 1 beside page 1.
fn by_number(old: &Leaves<'_>, new: &Leaves<'_>) -> Vec<PagePair> {
    let (before, after) = (&old.layout.pages, &new.layout.pages);
    let pair = |at: usize| {
        let idx = |pages: &[Page]| pages.get(at).map(|_| PageIdx(u32::try_from(at).unwrap_or(u32::MAX)));
        let differs = match (before.get(at), after.get(at)) {
            (Some(one), Some(other)) => set_otherwise(one, other),
            _ => 1.0,
        };
        PagePair { old: idx(before), new: idx(after), common: 0, differs }
    };
    (0..before.len().max(after.len())).map(pair).collect()
}

/// How otherwise two pages are set, their music apart: systems, staves, their height and where they stand.
fn set_otherwise(one: &Page, other: &Page) -> f64 {
    let count =
        |page: &Page| (page.systems.len(), page.systems.iter().map(|system| system.staves.len()).sum::<usize>());
    let ((systems, staves), (others, their_staves)) = (count(one), count(other));
    let height =
        |page: &Page| page.systems.iter().flat_map(|system| &system.staves).map(|staff| staff.height).reduce(Mm::max);
    let foot = |page: &Page| page.systems.last().map(|system| system.rect.bottom);
    let apart = |one: Option<Mm>, other: Option<Mm>, by: f64| match (one, other) {
        (Some(one), Some(other)) => (one - other).0.abs() / by,
        (None, None) => 0.0,
        _ => 1.0,
    };
    systems.abs_diff(others) as f64
        + staves.abs_diff(their_staves) as f64 / staves.max(their_staves).max(1) as f64
        + apart(height(one), height(other), 1.0)
        + apart(foot(one), foot(other), 200.0)
}

fn bars_of(page: &Page) -> impl Iterator<Item = BarIdx> {
    page.systems.iter().flat_map(|system| &system.bars).filter_map(|bar| bar.bars).flat_map(BarSpan::iter)
}

/// The page that each bar stands on.
fn page_of(layout: &Layout) -> BTreeMap<BarIdx, PageIdx> {
    let pages = layout.pages.iter().zip(0_u32..);
    pages.flat_map(|(page, at)| bars_of(page).map(move |bar| (bar, PageIdx(at)))).collect()
}

fn by_bars(old: &Leaves<'_>, new: &Leaves<'_>, matched: &Matched, density: &[DensityChange]) -> Vec<PagePair> {
    let before = page_of(old.layout);
    let mut has_partner = vec![false; old.layout.pages.len()];
    let mut pairs = Vec::with_capacity(new.layout.pages.len());
    for (page, at) in new.layout.pages.iter().zip(0_u32..) {
        let mut common: BTreeMap<PageIdx, usize> = BTreeMap::new();
        let mut all = 0_usize;
        for bar in bars_of(page) {
            all += 1;
            if let Some(old) = matched.to_old(bar).and_then(|bar| before.get(&bar)) {
                *common.entry(*old).or_default() += 1;
            }
        }
        let most = common.into_iter().max_by_key(|(page, count)| (*count, std::cmp::Reverse(*page)));
        let partner = most.and_then(|(at, count)| Some((at, count, old.layout.pages.get(at.at())?)));
        if let Some(slot) = partner.and_then(|(at, ..)| has_partner.get_mut(at.at())) {
            *slot = true;
        }
        let differs = partner.map_or(1.0, |(_, count, other)| {
            let others = bars_of(other).count();
            let share = 1.0 - 2.0 * count as f64 / (all + others).max(1) as f64;
            let dense = density.iter().filter(|own| page.span().is_some_and(|span| meets(span, own.bars)));
            share + set_otherwise(other, page) + dense.map(|own| (own.new / own.old - 1.0).abs()).fold(0.0, f64::max)
        });
        let common = partner.map_or(0, |(_, count, _)| count);
        pairs.push(PagePair { old: partner.map(|(at, ..)| at), new: Some(PageIdx(at)), common, differs });
    }
    let alone = has_partner.iter().zip(0_u32..).filter(|(has, _)| !**has);
    pairs.extend(alone.map(|(_, at)| PagePair { old: Some(PageIdx(at)), new: None, common: 0, differs: 1.0 }));
    pairs
}

fn meets(one: BarSpan, other: BarSpan) -> bool {
    one.first <= other.last && other.first <= one.last
}

/// Runs of bars of both drafts that are denser, or less dense, than they were by more than the noise.
fn density(old: &Leaves<'_>, new: &Leaves<'_>, music: &Music, noise: f64) -> Vec<DensityChange> {
    let mean = |own: &Leaves<'_>, bar: BarIdx| -> Option<f64> {
        let staves = u16::try_from(own.survey.density.staves).unwrap_or(u16::MAX);
        let cells = (0..staves).filter_map(|staff| own.survey.density.cell(bar, StaffId(staff)).per_100_spaces);
        let (sum, count) = cells.fold((0.0, 0_u32), |(sum, count), own| (sum + f64::from(own), count + 1));
        (count > 0).then(|| sum / f64::from(count))
    };
    let mut runs: Vec<(DensityChange, usize)> = Vec::new();
    let mut open = None;
    for pair in &music.bars {
        let told = pair.old.zip(pair.new).and_then(|(one, other)| {
            let (before, after) = (mean(old, one)?, mean(new, other)?);
            let changed = before > 0.0 && (after / before > 1.0 + noise || before / after > 1.0 + noise);
            changed.then_some((one, other, before, after))
        });
        let Some((one, other, before, after)) = told else {
            open = None;
            continue;
        };
        let denser = after > before;
        match runs.last_mut() {
            Some((run, count))
                if open == Some(denser) && run.bars.last.0 + 1 == other.0 && run.old_bars.last.0 + 1 == one.0 =>
            {
                (run.bars.last, run.old_bars.last) = (other, one);
                run.old += before;
                run.new += after;
                *count += 1;
            }
            _ => {
                let (bars, old_bars) = (BarSpan::one(other), BarSpan::one(one));
                runs.push((DensityChange { bars, old_bars, old: before, new: after }, 1));
            }
        }
        open = Some(denser);
    }
    let whole = |(run, count): (DensityChange, usize)| DensityChange {
        old: run.old / count as f64,
        new: run.new / count as f64,
        ..run
    };
    runs.into_iter().filter(|(_, count)| *count >= A_PASSAGE).map(whole).collect()
}

/// Bars whose opening is not the one that became most of their opening of before.
fn other_opening(old: &Leaves<'_>, new: &Leaves<'_>, matched: &Matched) -> usize {
    let (before, after) = (opening_of(old), opening_of(new));
    let mut common: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for (bar, opening) in &after {
        if let Some(old) = matched.to_old(*bar).and_then(|bar| before.get(&bar)) {
            *common.entry((*opening, *old)).or_default() += 1;
        }
    }
    let all: usize = common.values().sum();
    let mut most: BTreeMap<usize, usize> = BTreeMap::new();
    for ((opening, _), count) in &common {
        let own = most.entry(*opening).or_default();
        *own = (*own).max(*count);
    }
    all - most.values().sum::<usize>()
}

fn opening_of(own: &Leaves<'_>) -> BTreeMap<BarIdx, usize> {
    let mut of = BTreeMap::new();
    for (at, opening) in own.survey.openings.iter().enumerate() {
        for page in opening.pages.iter().filter_map(|page| own.layout.pages.get(page.at())) {
            of.extend(bars_of(page).map(|bar| (bar, at)));
        }
    }
    of
}

#[cfg(test)]
mod tests;
