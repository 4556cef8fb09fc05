//! Where each bar is printed, found once for all bars.

use crate::layout::Layout;
use crate::place::{BarIdx, PageIdx};
use crate::score::Score;
use crate::units::Mm;

/// One bar's place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct PrintedAt {
    pub page: PageIdx,
    /// The system, counted from 0 through all pages.
    pub system_of_all: usize,
    /// Of one bar; bars of a multi-bar rest share its width.
    pub width: Mm,
}

/// Places of all bars.
pub(super) struct Printed(Vec<Option<PrintedAt>>);

impl Printed {
    pub fn of(score: &Score, layout: &Layout) -> Printed {
        let mut places = vec![None; score.bars.len()];
        for (system_of_all, (page, _, system)) in layout.systems().enumerate() {
            for bar in &system.bars {
                let Some(span) = bar.bars else { continue };
                let width = (bar.right - bar.left) / f64::from(span.count());
                let own = places.get_mut(span.first.at()..=span.last.at()).unwrap_or_default();
                own.fill(Some(PrintedAt { page, system_of_all, width }));
            }
        }
        Printed(places)
    }

    pub fn at(&self, bar: BarIdx) -> Option<PrintedAt> {
        self.0.get(bar.at()).copied().flatten()
    }
}
