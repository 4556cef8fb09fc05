//! CPU time of holding all parts of a work against its score, beside a bare parse of the score.

use super::figure::{Figure, Outcome, median};
use super::program::{bare_seconds, proof_seconds, write_parts};
use super::sample::Score;
use super::work_folder::WorkFolder;

const RUNS: usize = 5;
/// The most that it should take after reading, in bare parses of the score.
const GOAL: f64 = 1.0;

/// For the largest score and its parts as rastrum writes them: the median of the runs' ratios.
pub fn figures(scores: &[Score], work: &WorkFolder) -> Outcome<Vec<Figure>> {
    let score = scores.last().ok_or("no score to measure")?;
    let parts = work.path().join("parts");
    write_parts(&score.path, &parts, work)?;
    let mut pairs = Vec::new();
    for _ in 0..RUNS {
        let bare = bare_seconds(&score.path)?;
        pairs.push((proof_seconds(&score.path, &parts, work)?, bare));
    }
    let (own, bare) = median(&pairs, |(own, bare)| own / bare)?;
    Ok(vec![Figure {
        name: format!("CPU, all parts against the score after reading, {}", score.name()),
        value: own / bare,
        goal: GOAL,
        unit: " bare parses",
        from: format!("{:.1} ms / {:.1} ms, median of {RUNS}", own * 1e3, bare * 1e3),
    }])
}
