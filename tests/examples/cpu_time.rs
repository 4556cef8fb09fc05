//! CPU time of this process.

use std::time::Instant;

/// CPU seconds, user and system, since the process began. By the same clock as the program's own timings: what
/// /proc/self/schedstat tells may lag by a tick of the scheduler, 4 ms of the 6 that a small file takes.
#[cfg(unix)]
pub fn cpu_seconds(_: Instant) -> f64 {
    let used = rustix::time::clock_gettime(rustix::time::ClockId::ProcessCPUTime);
    used.tv_sec as f64 + used.tv_nsec as f64 / 1e9
}

/// Where the system does not tell CPU time, seconds since `start`.
#[cfg(not(unix))]
pub fn cpu_seconds(start: Instant) -> f64 {
    start.elapsed().as_secs_f64()
}
