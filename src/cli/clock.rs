//! The two clocks: the day, for accepted findings, and CPU time, for timings.

use std::time::{SystemTime, UNIX_EPOCH};

/// Today, by universal time: "2026-11-25".
#[must_use]
pub fn today() -> String {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    date(i64::try_from(seconds / 86_400).unwrap_or(0))
}

/// CPU seconds that this process has used so far, user and system; `None` where the system does not tell.
#[cfg(unix)]
#[must_use]
pub fn cpu_seconds() -> Option<f64> {
    let used = rustix::time::clock_gettime(rustix::time::ClockId::ProcessCPUTime);
    Some(used.tv_sec as f64 + used.tv_nsec as f64 / 1e9)
}

#[cfg(not(unix))]
#[must_use]
pub fn cpu_seconds() -> Option<f64> {
    None
}

/// A day counted from 1970-01-01 in the Gregorian calendar, as ISO 8601 writes it.
///
/// Years begin in March here, so that the leap day is their last, and run in cycles of 400 (146,097 days).
fn date(days: i64) -> String {
    let from_march_of_0 = days + 719_468;
    let (cycle, day) = (from_march_of_0.div_euclid(146_097), from_march_of_0.rem_euclid(146_097));
    let year = (day - day / 1_460 + day / 36_524 - day / 146_096) / 365;
    let day = day - (365 * year + year / 4 - year / 100);
    let march_based = (5 * day + 2) / 153;
    let month = if march_based < 10 { march_based + 3 } else { march_based - 9 };
    let day = day - (153 * march_based + 2) / 5 + 1;
    let year = cycle * 400 + year + i64::from(month <= 2);
    format!("{year:04}-{month:02}-{day:02}")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// POSIX: 86,400 s a day from 1970-01-01; 951,782,400 s is 2000-02-29, 4,102,444,800 s is 2100-01-01.
    #[test]
    fn days_become_dates_across_leap_years() {
        assert_eq!(date(0), "1970-01-01");
        assert_eq!(date(951_782_400 / 86_400), "2000-02-29");
        assert_eq!(date(951_782_400 / 86_400 + 1), "2000-03-01");
        assert_eq!(date(4_102_444_800 / 86_400), "2100-01-01");
    }

    #[test]
    fn every_day_of_four_centuries_follows_the_last() {
        let days: Vec<String> = (0..146_097).map(date).collect();
        assert!(days.windows(2).all(|pair| pair[0] < pair[1]));
        assert_eq!(date(146_097), "2370-01-01");
    }
}
