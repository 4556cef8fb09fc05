//! Gaps between staves and systems that may be judged, as places.

use super::Case;
use super::pages::is_told;
use crate::geometry::Rect;
use crate::place::{BarSpan, Place};
use crate::survey::Gap;
use crate::units::{Mm, Spaces};

impl<'a> Case<'a> {
    /// Gaps whose height the document tells, in reading order.
    pub(super) fn told_gaps(&self) -> impl Iterator<Item = &'a Gap> + use<'a> {
        let case = *self;
        case.survey.gaps.iter().filter(move |gap| case.is_told_gap(gap))
    }

    fn is_told_gap(&self, gap: &Gap) -> bool {
        let system = self.page(gap.page).and_then(|page| page.systems.get(usize::from(gap.system)));
        let lower = system.and_then(|system| system.staves.iter().find(|staff| staff.staff == Some(gap.lower)));
        lower.is_some_and(|staff| is_told(staff.placed) && is_told(staff.sized))
    }

    /// White left where the contents of two neighbouring staves come closest, in spaces of the larger one.
    pub(super) fn clearance(&self, gap: &Gap) -> Spaces {
        let system = self.page(gap.page).and_then(|page| page.systems.get(usize::from(gap.system)));
        let staves = system.into_iter().flat_map(|system| &system.staves);
        let own = staves.filter(|staff| staff.staff == Some(gap.upper) || staff.staff == Some(gap.lower));
        let larger = own.map(|staff| staff.height).reduce(Mm::max).filter(|height| *height > Mm::ZERO);
        larger.map_or(Spaces::ZERO, |height| gap.clearance().rounded().in_spaces(height))
    }

    /// The gap at the bar where its contents come closest, or along its whole width when it is empty.
    pub(super) fn on_gap(&self, gap: &Gap) -> Place {
        let Some(system) = self.page(gap.page).and_then(|page| page.systems.get(usize::from(gap.system))) else {
            return self.on_page(gap.page);
        };
        let mut place = self.on_system(gap.page, gap.system, system);
        let tightest = gap.tightest.map(|tightest| tightest.bar);
        let bar = system.bars.iter().find(|bar| bar.bars.zip(tightest).is_some_and(|(bars, own)| bars.contains(own)));
        let (left, right) = bar.map_or((system.rect.left, system.rect.right), |bar| (bar.left, bar.right));
        let (top, bottom) = (gap.top.min(gap.top + gap.height), gap.top.max(gap.top + gap.height));
        place.rect = Some(Rect::new(left, top, right, bottom).rounded());
        place.bars = tightest.map(BarSpan::one).or(place.bars);
        place.staves = vec![gap.upper, gap.lower];
        place
    }
}
