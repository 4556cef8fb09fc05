//! How far estimated pages may be off, in the published JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::casting_off::{self, ExpectedErrors};

/// How far forecasts of the same kind were off, in percent and in staff spaces.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ExpectedError {
    /// The natural spacing was learned from recorded pages of the same score.
    pub calibrated: bool,
    /// The number of systems.
    pub systems_percent: Within,
    /// The number of pages.
    pub pages_percent: Within,
    /// How far systems are stretched.
    pub stretch_percent: Within,
    /// Gaps between staves.
    pub gap_spaces: Within,
}

/// What forecasts came within.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Within {
    /// Half of them.
    pub half: f64,
    pub nine_in_ten: f64,
    /// How many were judged.
    pub judged: u32,
}

impl ExpectedError {
    pub(super) fn of(own: &ExpectedErrors) -> ExpectedError {
        let spaces = casting_off::ExpectedError {
            median: own.gaps.median.0,
            nine_in_ten: own.gaps.nine_in_ten.0,
            of: own.gaps.of,
        };
        ExpectedError {
            calibrated: own.is_calibrated,
            systems_percent: Within::of(&own.systems),
            pages_percent: Within::of(&own.pages),
            stretch_percent: Within::of(&own.stretch),
            gap_spaces: Within::of(&spaces),
        }
    }
}

impl Within {
    fn of(own: &casting_off::ExpectedError<f64>) -> Within {
        Within { half: own.median, nine_in_ten: own.nine_in_ten, judged: own.of }
    }
}
