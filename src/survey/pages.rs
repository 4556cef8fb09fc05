//! Pages as a whole: how full, how dense, how long.

use super::Density;
use crate::layout::{Layout, Page};
use crate::place::{PageIdx, StaffId};
use crate::score::Score;
use crate::units::{Mm, Seconds};

/// One page as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct PageSurvey {
    pub page: PageIdx,
    /// Height from the first staff's top line to the last staff's bottom line over the height between the margins.
    pub fill: f64,
    /// Dense end of the page's cells (90th of 100 sorted by density), symbols per 100 spaces of sounding staff.
    pub density: Option<f64>,
    /// The middle one of those cells: what most of the page is like.
    pub typical: Option<f32>,
    /// Seconds of music on it.
    pub seconds: Option<Seconds>,
}

pub(super) fn pages(score: &Score, layout: &Layout, density: &Density) -> Vec<PageSurvey> {
    let one = |(at, page): (usize, &Page)| {
        let cells = cells(page, density);
        PageSurvey {
            page: PageIdx(at as u32),
            fill: fill(page),
            density: percentile(&cells, 0.9).map(f64::from),
            typical: percentile(&cells, 0.5),
            seconds: page.span().and_then(|bars| score.seconds_of(bars)),
        }
    };
    layout.pages.iter().enumerate().map(one).collect()
}

fn fill(page: &Page) -> f64 {
    let (Some(first), Some(last)) = (page.systems.first(), page.systems.last()) else { return 0.0 };
    let room = page.size.value.1 - page.margins.value.top - page.margins.value.bottom;
    if room > Mm::ZERO { (last.rect.bottom - first.rect.top) / room } else { 0.0 }
}

/// The densities of a page's sounding cells, in order.
fn cells(page: &Page, density: &Density) -> Vec<f32> {
    let mut cells = Vec::new();
    for system in &page.systems {
        let bars = system.bars.iter().filter_map(|bar| bar.bars).flat_map(|span| span.iter());
        let staves: Vec<StaffId> = system.staves.iter().filter_map(|staff| staff.staff).collect();
        for bar in bars {
            cells.extend(staves.iter().filter_map(|staff| density.cell(bar, *staff).per_100_spaces));
        }
    }
    cells.sort_unstable_by(f32::total_cmp);
    cells
}

/// The smallest of the values, which stand in order, that at least `share` of them do not exceed.
fn percentile(values: &[f32], share: f64) -> Option<f32> {
    let rank = (values.len() as f64 * share).ceil() as usize;
    values.get(rank.saturating_sub(1)).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nine_of_ten_cells_are_no_denser_than_the_dense_end() {
        let ten: Vec<f32> = (1..=10).map(|n| n as f32).collect();
        assert_eq!(percentile(&ten, 0.9), Some(9.0));
        assert_eq!(percentile(&[7.0], 0.9), Some(7.0));
        assert_eq!(percentile(&[], 0.9), None);
    }
}
