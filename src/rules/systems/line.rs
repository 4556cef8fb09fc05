//! How much of the line a system fills.

use crate::layout::System;
use crate::place::PageIdx;
use crate::rules::Case;
use crate::rules::pages::is_told;
use crate::units::Mm;

impl Case<'_> {
    /// Per cent, to one decimal; `None` where margins or barlines are not told.
    pub(super) fn line_fill(&self, page: PageIdx, system: &System) -> Option<f64> {
        let page = self.page(page)?;
        if !is_told(page.margins.origin) || !system.bars.iter().all(|bar| is_told(bar.placed)) {
            return None;
        }
        let line = page.size.value.0 - page.margins.value.right - system.rect.left;
        (line > Mm::ZERO).then(|| (system.rect.width() / line * 1000.0).round() / 10.0)
    }
}
