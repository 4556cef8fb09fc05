//! The two clocks: the day, for accepted findings, and CPU time, for timings.

/// Today, by universal time: "2026-11-25".
#[must_use]
pub fn today() -> String {
    time::OffsetDateTime::now_utc().date().to_string()
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
