//! Pages as a whole: how full, how dense, how long.

use super::Density;
use crate::geometry::Rect;
use crate::layout::{Layout, Page, PrintedBar, PrintedStaff, System};
use crate::metrics::{Extents, PARTS, StaffSize, mark_reach};
use crate::place::{BarIdx, PageIdx, StaffId};
use crate::score::Score;
use crate::units::{Mm, Seconds, Spaces};

/// One page as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct PageSurvey {
    pub page: PageIdx,
    /// Height from the first staff's top line to the last staff's bottom line over the height between the margins.
    pub fill: f64,
    /// Dense end of the page's cells (90th of 100 sorted by density), symbols per 100 spaces of sounding staff.
    pub density: Option<f64>,
    /// Seconds of music on it.
    pub seconds: Option<Seconds>,
    /// The box around its music: staves, what stands above and below the outer ones, and marks at a system's ends
    /// whose places the file records. Estimated from sizes of symbols; names, braces and page texts are not in it.
    pub contents: Option<Rect>,
}

pub(super) fn pages(score: &Score, layout: &Layout, density: &Density, extents: &Extents) -> Vec<PageSurvey> {
    let one = |(at, page): (usize, &Page)| PageSurvey {
        page: PageIdx(at as u32),
        fill: fill(page),
        density: dense_end(page, density),
        seconds: page.span().and_then(|bars| score.seconds_of(bars)),
        contents: contents(score, page, extents),
    };
    layout.pages.iter().enumerate().map(one).collect()
}

fn fill(page: &Page) -> f64 {
    let (Some(first), Some(last)) = (page.systems.first(), page.systems.last()) else { return 0.0 };
    let room = page.size.value.1 - page.margins.value.top - page.margins.value.bottom;
    if room > Mm::ZERO { (last.rect.bottom - first.rect.top) / room } else { 0.0 }
}

fn dense_end(page: &Page, density: &Density) -> Option<f64> {
    let mut cells = Vec::new();
    for system in &page.systems {
        let bars = system.bars.iter().filter_map(|bar| bar.bars).flat_map(|span| span.iter());
        let staves: Vec<StaffId> = system.staves.iter().filter_map(|staff| staff.staff).collect();
        for bar in bars {
            cells.extend(staves.iter().filter_map(|staff| cell(density, bar, *staff)));
        }
    }
    percentile(&mut cells, 0.9)
}

fn cell(density: &Density, bar: BarIdx, staff: StaffId) -> Option<f32> {
    density.cell(bar, staff).per_100_spaces
}

fn contents(score: &Score, page: &Page, extents: &Extents) -> Option<Rect> {
    let boxes = page.systems.iter().filter_map(|system| contents_of(score, system, extents));
    boxes.reduce(|all, one| all.union(&one)).map(|all| all.rounded())
}

fn contents_of(score: &Score, system: &System, extents: &Extents) -> Option<Rect> {
    let mut all = system.rect;
    let (top, bottom) = (system.staves.first()?, system.staves.last()?);
    let size = |staff: StaffId, printed: &PrintedStaff| StaffSize { staff, scale: 1.0, lines: printed.lines };
    for bar in system.bars.iter().filter_map(|bar| bar.bars).flat_map(|span| span.iter()) {
        let reach = |printed: &PrintedStaff, parts: &dyn Fn(StaffSize) -> [Spaces; PARTS]| {
            let most = printed.staff.map(|staff| parts(size(staff, printed)));
            most.into_iter().flatten().map(|part| part.on_staff(printed.height)).fold(Mm::ZERO, Mm::max)
        };
        all.top = all.top.min(top.top - reach(top, &|size| extents.above_in_parts(bar, size)));
        all.bottom = all.bottom.max(bottom.bottom() + reach(bottom, &|size| extents.below_in_parts(bar, size)));
    }
    for bar in system.bars.first().into_iter().chain(system.bars.last()) {
        for (left, right) in recorded_marks(score, bar, &system.staves) {
            (all.left, all.right) = (all.left.min(left), all.right.max(right));
        }
    }
    Some(all)
}

/// Left and right ends of the marks in a bar whose places are recorded.
fn recorded_marks(score: &Score, printed: &PrintedBar, staves: &[PrintedStaff]) -> Vec<(Mm, Mm)> {
    let Some(bars) = printed.bars.filter(|bars| bars.count() == 1) else { return Vec::new() };
    let marks = staves.iter().filter_map(|staff| {
        let cell = score.cell(bars.first, staff.staff?)?;
        let reaches = cell.marks.iter().filter_map(|mark| mark_reach(mark, staff.height));
        Some(reaches.map(|(left, right)| (printed.left + left, printed.left + right)))
    });
    marks.flatten().collect()
}

/// The smallest value that at least `share` of the values do not exceed.
fn percentile(values: &mut [f32], share: f64) -> Option<f64> {
    values.sort_unstable_by(f32::total_cmp);
    let rank = (values.len() as f64 * share).ceil() as usize;
    values.get(rank.saturating_sub(1)).map(|value| f64::from(*value))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nine_of_ten_cells_are_no_denser_than_the_dense_end() {
        let mut ten: Vec<f32> = (1..=10).map(|n| n as f32).collect();
        assert_eq!(percentile(&mut ten, 0.9), Some(9.0));
        assert_eq!(percentile(&mut [7.0], 0.9), Some(7.0));
        assert_eq!(percentile(&mut [], 0.9), None);
    }
}
