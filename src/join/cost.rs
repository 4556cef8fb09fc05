//! How ill a printed bar, or a number, fits the music.

use super::music::{Expected, ExpectedBar};

/// A bar that fits in nothing.
pub(super) const WORST: f64 = 1.0;
/// A bar more or less than counted.
pub(super) const UNEVEN: f64 = 2.5;
/// A number that is that of the bar, and one that is not.
const NUMBER: (f64, f64) = (-3.0, 2.5);
/// A multi-bar rest over music.
const SOUNDING: f64 = 1.0;

/// One printed bar against the bars it may stand for, from `first` on.
pub(super) fn bar(heads: u32, holds: u32, first: usize, expected: &Expected) -> f64 {
    if holds <= 1 {
        return expected.get(first).map_or(WORST, |own| of_heads(heads, own));
    }
    let sounding = (0..holds as usize).filter(|at| expected.get(first + at).is_none_or(|own| !own.is_silent)).count();
    (sounding as f64 * SOUNDING).min(2.0 * WORST)
}

/// Heads counted against heads expected: by their ratio, since some are missed and some signs are taken for heads.
fn of_heads(heads: u32, own: &ExpectedBar) -> f64 {
    let (seen, wanted) = (f64::from(heads) + 2.0, f64::from(own.heads) + 2.0);
    let ratio = seen.max(wanted) / seen.min(wanted);
    (ratio - 1.0).min(WORST)
}

/// The number printed at a system against that of its first bar.
pub(super) fn number(label: Option<&str>, first: usize, expected: &Expected) -> f64 {
    let Some(label) = label.map(bare) else { return 0.0 };
    let own = expected.get(first).map(|own| bare(&own.label));
    if own.as_deref() == Some(label.as_str()) { NUMBER.0 } else { NUMBER.1 }
}

fn bare(label: &str) -> String {
    label.chars().filter(char::is_ascii_digit).collect()
}
