//! CPU time of this process.

use std::time::Instant;

/// CPU seconds, user and system, since the process began; where the system does not tell, seconds since `start`.
pub fn cpu_seconds(start: Instant) -> f64 {
    let nanoseconds = std::fs::read_to_string("/proc/self/schedstat")
        .ok()
        .and_then(|text| text.split_whitespace().next().and_then(|first| first.parse::<f64>().ok()));
    nanoseconds.map_or_else(|| start.elapsed().as_secs_f64(), |nanoseconds| nanoseconds / 1e9)
}
