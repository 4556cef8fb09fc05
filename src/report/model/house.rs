//! What forecast and proposed pages rest on, in the published JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::thousandth;
use crate::casting_off::{self, Staves};
use crate::check::Checked;
use crate::metrics::Spacing;
use crate::units::Spaces;

/// Habits that hold where the files do not say, and for pages that are not the files' own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct House {
    pub paper_mm: [f64; 2],
    pub margins_mm: Margins,
    /// Of a five-line staff.
    pub staff_height_mm: f64,
    /// Between two staves of one family, from line to line.
    pub staff_gap_spaces: f64,
    /// The same where room is short.
    pub least_staff_gap_spaces: f64,
    /// The gap between two families over the gap inside one.
    pub family_factor: f64,
    /// Between two systems, from line to line.
    pub system_gap_spaces: f64,
    /// White between the contents of two staves.
    pub clearance_spaces: f64,
    /// Length of a quarter note set neither tight nor loose.
    pub natural_spacing_spaces: f64,
    pub staves: StavesShown,
}

/// Margins of a page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Margins {
    pub left: f64,
    pub right: f64,
    pub top: f64,
    pub bottom: f64,
}

/// What becomes of silent staves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StavesShown {
    Full,
    Playing,
    AsRecorded,
}

impl House {
    pub(super) fn of(checked: &Checked) -> House {
        let house = &checked.house;
        let casting_off::House { paper, margins, staff_height, staves, .. } = house;
        let spaces = |length: Spaces| thousandth(length.0);
        House {
            paper_mm: [thousandth(paper.0.0), thousandth(paper.1.0)],
            margins_mm: Margins {
                left: thousandth(margins.left.0),
                right: thousandth(margins.right.0),
                top: thousandth(margins.top.0),
                bottom: thousandth(margins.bottom.0),
            },
            staff_height_mm: thousandth(staff_height.0),
            staff_gap_spaces: spaces(house.staff_gap),
            least_staff_gap_spaces: spaces(house.least_gap),
            family_factor: thousandth(house.family_factor),
            system_gap_spaces: spaces(house.system_gap),
            clearance_spaces: spaces(house.clearance),
            natural_spacing_spaces: spaces(Spacing::QUARTER * house.natural_force),
            staves: match staves {
                Staves::Full => StavesShown::Full,
                Staves::Playing => StavesShown::Playing,
                Staves::AsRecorded => StavesShown::AsRecorded,
            },
        }
    }
}
