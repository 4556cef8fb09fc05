//! Other papers and staff heights, in the published JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::thousandth;
use crate::casting_off::WhatIf;
use crate::check::Checked;
use crate::report::what_if;
use crate::units::{Mm, Spaces};

/// One paper with one staff height: a forecast.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WhatIfCell {
    pub paper: String,
    pub width_mm: Mm,
    pub height_mm: Mm,
    pub staff_height_mm: Mm,
    pub pages: u32,
    /// Most systems on a page.
    pub systems_max: u32,
    /// Pages with two systems or more.
    pub split_pages: u32,
    /// The tightest system against its natural width; 0.9 is a tenth tighter.
    pub stretch_min: Option<f64>,
    /// The narrowest gap between two staves of a system.
    pub gap_min_spaces: Option<Spaces>,
    /// Everything goes onto its page.
    pub holds: bool,
    /// What does not, and where it is first met; null where it holds.
    pub why: Option<String>,
    /// The largest staves with which one system of all staves goes onto each page of this paper.
    pub largest_staff_mm: Option<Mm>,
}

pub(super) fn of(checked: &Checked) -> Option<Vec<WhatIfCell>> {
    let WhatIf { papers } = checked.what_if.as_ref()?;
    let cells = papers.iter().flat_map(|paper| {
        paper.cells.iter().map(move |cell| WhatIfCell {
            paper: paper.name.clone(),
            width_mm: paper.size.0.rounded(),
            height_mm: paper.size.1.rounded(),
            staff_height_mm: cell.staff_height.rounded(),
            pages: cell.pages,
            systems_max: cell.systems_max,
            split_pages: cell.split_pages,
            stretch_min: cell.stretch_min.map(thousandth),
            gap_min_spaces: cell.gap_min.map(|gap| Spaces(thousandth(gap.0))),
            holds: cell.fails.is_none(),
            why: cell.fails.map(|fails| what_if::failure(fails, &checked.score)),
            largest_staff_mm: paper.largest,
        })
    });
    Some(cells.collect())
}
