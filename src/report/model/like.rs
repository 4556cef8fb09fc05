//! Differences from another layout in the published JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::check::Checked;
use crate::reference;

/// What the layout named with --like has otherwise.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Difference {
    pub what: What,
    /// With its unit.
    pub theirs: String,
    /// With its unit.
    pub yours: String,
    /// The difference as a sentence.
    pub words: String,
}

/// What two layouts differ in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    Page,
    StaffHeight,
    SystemsAPage,
    GapBetweenSystems,
    GapInsideFamilies,
    GapBetweenFamilies,
    BarsASystem,
    Density,
    Margins,
}

pub(super) fn of(checked: &Checked) -> Option<Vec<Difference>> {
    checked.like.as_ref().map(|differences| differences.iter().map(Difference::of).collect())
}

impl Difference {
    fn of(difference: &reference::Difference) -> Difference {
        let reference::Difference { what, theirs, yours, words } = difference.clone();
        Difference { what: what.into(), theirs, yours, words }
    }
}

impl From<reference::What> for What {
    fn from(what: reference::What) -> What {
        match what {
            reference::What::Page => What::Page,
            reference::What::StaffHeight => What::StaffHeight,
            reference::What::SystemsAPage => What::SystemsAPage,
            reference::What::GapBetweenSystems => What::GapBetweenSystems,
            reference::What::GapInsideFamilies => What::GapInsideFamilies,
            reference::What::GapBetweenFamilies => What::GapBetweenFamilies,
            reference::What::BarsASystem => What::BarsASystem,
            reference::What::Density => What::Density,
            reference::What::Margins => What::Margins,
        }
    }
}
