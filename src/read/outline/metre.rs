//! Metres as text: "4/4", "3+2/8".

use crate::score::Metre;
use crate::units::Fraction;

/// Beats of one bar, added up, and the finest beat value.
const MOST_BEATS: i64 = 128;
const FINEST: u32 = 64;

/// `None` when it is none.
pub(super) fn parse(text: &str) -> Option<Metre> {
    let (beats, value) = text.split_once('/')?;
    let beats: Option<Vec<u32>> = beats.split('+').map(|beats| beats.trim().parse().ok()).collect();
    let mut sum = 0_i64;
    for beats in beats? {
        sum = sum.checked_add(i64::from(beats)).filter(|sum| beats > 0 && *sum <= MOST_BEATS)?;
    }
    let beat_value: u32 = value.trim().parse().ok()?;
    if !beat_value.is_power_of_two() || beat_value > FINEST {
        return None;
    }
    let length = Fraction::new(sum.checked_mul(4)?, i64::from(beat_value))?;
    Some(Metre { text: text.split_whitespace().collect(), length, beat_value })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_is_as_long_as_its_beats() {
        let length = |text| parse(text).map(|metre| metre.length.to_f64());
        assert_eq!(length("4/4"), Some(4.0));
        assert_eq!(length("6/8"), Some(3.0));
        assert_eq!(length("3 + 2/8"), Some(2.5));
        for wrong in ["", "4", "4/", "0/4", "4/3", "4/128", "999/4", "-1/4", "4/0", "C", "4294967295+1/4"] {
            assert_eq!(parse(wrong), None, "{wrong}");
        }
    }
}
