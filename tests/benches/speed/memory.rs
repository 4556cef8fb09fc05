//! The most memory that a check holds at one time.

use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::Duration;

use super::figure::{Figure, Outcome};
use super::program::{Writes, check};
use super::sample::Score;
use super::work_folder::WorkFolder;

const RUNS: usize = 3;

/// What any score may take, and what each byte of its decompressed file may add, in bytes.
const BASE: f64 = 40e6;
const PER_BYTE: f64 = 4.0;

/// For each score, the highest peak of some runs that write everything.
pub fn figures(scores: &[Score], work: &WorkFolder) -> Outcome<Vec<Figure>> {
    let of_score = |score: &Score| {
        let what = format!("{}, {}", Writes::ReportAndJson.words(), score.name());
        figure(&what, score.inflated as f64, || check(&[&score.path], Writes::ReportAndJson, work))
    };
    scores.iter().map(of_score).collect()
}

/// The highest peak of some runs over files of so many bytes of XML.
pub(super) fn figure(what: &str, inflated: f64, command: impl Fn() -> Command) -> Outcome<Figure> {
    let mut peak = 0.0_f64;
    for _ in 0..RUNS {
        peak = peak.max(peak_bytes(&mut command())?);
    }
    Ok(Figure {
        name: format!("peak memory, {what}"),
        value: peak / 1e6,
        goal: (BASE + PER_BYTE * inflated) / 1e6,
        unit: " MB",
        from: format!("highest of {RUNS} runs; 40 MB + 4 x {:.2} MB decompressed", inflated / 1e6),
    })
}

/// Peak resident memory of the process. The kernel forgets it when the process ends, so it is asked every fifth of a
/// millisecond until then; what is taken later than the last answer is not seen.
fn peak_bytes(command: &mut Command) -> Outcome<f64> {
    let mut child = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn()?;
    let mut peak = None;
    let ended = loop {
        peak = peak.max(kilobytes(&child));
        if let Some(ended) = child.try_wait()? {
            break ended;
        }
        thread::sleep(Duration::from_micros(200));
    };
    if !matches!(ended.code(), Some(0 | 1)) {
        return Err(format!("{command:?} could not work").into());
    }
    let peak = peak.ok_or("this system does not tell the peak memory of a process")?;
    Ok(peak as f64 * 1024.0)
}

fn kilobytes(child: &Child) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{}/status", child.id())).ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().strip_suffix("kB")?.trim().parse().ok()
}
