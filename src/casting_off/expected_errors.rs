//! How far estimates may be off, told by forecasts of open scores: a table that the accuracy program writes.

use serde::Deserialize;

use crate::units::Spaces;

const TABLE: &str = include_str!("expected-errors.toml");

/// How far forecasts of one kind were off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExpectedErrors {
    /// The natural spacing was learned from recorded pages of the same score.
    pub is_calibrated: bool,
    /// Numbers of systems and of pages, and how far systems are stretched: in percent.
    pub systems: ExpectedError<f64>,
    pub pages: ExpectedError<f64>,
    pub stretch: ExpectedError<f64>,
    /// Gaps between staves.
    pub gaps: ExpectedError<Spaces>,
}

/// What half of the forecasts, and nine in ten, came within.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExpectedError<T> {
    pub median: T,
    pub nine_in_ten: T,
    /// How many were judged.
    pub of: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    uncalibrated: Kind,
    calibrated: Kind,
    gaps: ExpectedError<Spaces>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Kind {
    systems: ExpectedError<f64>,
    pages: ExpectedError<f64>,
    stretch: ExpectedError<f64>,
}

impl ExpectedErrors {
    /// Of a forecast, whose natural spacing was learned from recorded pages or was not. `None` only where the table
    /// that ships cannot be read.
    #[must_use]
    pub fn of_forecast(is_calibrated: bool) -> Option<ExpectedErrors> {
        let Table { uncalibrated, calibrated, gaps } = toml::from_str(TABLE).ok()?;
        let Kind { systems, pages, stretch } = if is_calibrated { calibrated } else { uncalibrated };
        Some(ExpectedErrors { is_calibrated, systems, pages, stretch, gaps })
    }
}

impl ExpectedError<f64> {
    /// So many of `count` that half of the forecasts came within, and nine in ten: rounded up, never none at all.
    #[must_use]
    pub fn of_count(&self, count: usize) -> (usize, usize) {
        let share = |percent: f64| (libm::ceil(count as f64 * percent / 100.0 - 1e-9) as usize).max(1);
        (share(self.median), share(self.nine_in_ten))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_that_ships_is_read_and_says_how_it_was_made() {
        assert!(TABLE.contains("cargo run --release --example accuracy -- FOLDER --write-errors"));
        for is_calibrated in [false, true] {
            let own = ExpectedErrors::of_forecast(is_calibrated).expect("the table");
            for error in [own.systems, own.pages, own.stretch] {
                assert!(0.0 <= error.median && error.median <= error.nine_in_ten && error.of > 0, "{error:?}");
            }
            assert!(Spaces::ZERO < own.gaps.median && own.gaps.median <= own.gaps.nine_in_ten);
        }
    }

    #[test]
    fn errors_of_a_count_are_rounded_up_and_never_none() {
        let error = ExpectedError { median: 5.0, nine_in_ten: 12.5, of: 24 };
        assert_eq!(error.of_count(40), (2, 5));
        assert_eq!(error.of_count(41), (3, 6));
        assert_eq!(error.of_count(1), (1, 1));
        assert_eq!(ExpectedError { median: 0.0, ..error }.of_count(40), (1, 5));
    }
}
