//! CPU time of drawing all players' parts, laying them out and judging them, beside a bare parse of the same file.

use std::path::Path;

use super::figure::{Figure, Outcome, median};
use super::growth::{self, TIMES, slope};
use super::program::{bare_seconds, parts_seconds};
use super::sample::Score;
use super::work_folder::WorkFolder;

const RUNS: usize = 5;
/// The most that it should take after reading, in bare parses.
const GOAL: f64 = 0.5;

/// For the largest score: the median of the runs' ratios, and how the time grows.
pub fn figures(scores: &[Score], work: &WorkFolder) -> Outcome<Vec<Figure>> {
    let score = scores.last().ok_or("no score to measure")?;
    Ok(vec![ratio(score, work)?, grows(score, work)?])
}

fn ratio(score: &Score, work: &WorkFolder) -> Outcome<Figure> {
    let mut pairs = Vec::new();
    for _ in 0..RUNS {
        let bare = bare_seconds(&score.path)?;
        pairs.push((parts_seconds(&[Path::new(&score.path)], &["cast-off"], work)?, bare));
    }
    let (own, bare) = median(&pairs, |(own, bare)| own / bare)?;
    Ok(Figure {
        name: format!("CPU, all parts after reading, {}", score.name()),
        value: own / bare,
        goal: GOAL,
        unit: " bare parses",
        from: format!("{:.1} ms / {:.1} ms, median of {RUNS}", own * 1e3, bare * 1e3),
    })
}

/// The same music several times, as movements that run on in each part.
fn grows(score: &Score, work: &WorkFolder) -> Outcome<Figure> {
    let mut points = Vec::new();
    for times in TIMES {
        let movements = vec![Path::new(&score.path); times];
        let runs: Outcome<Vec<f64>> = (0..RUNS).map(|_| parts_seconds(&movements, &["cast-off"], work)).collect();
        points.push((times as f64, median(&runs?, |seconds| seconds)?));
    }
    let shown: Vec<String> =
        points.iter().map(|(times, seconds)| format!("{:.1} ms / {times} times", seconds * 1e3)).collect();
    Ok(Figure {
        name: format!("slope of log CPU on log bars, all parts, {}", score.name()),
        value: slope(&points),
        goal: growth::GOAL,
        unit: "",
        from: format!("{}; medians of {RUNS}", shown.join(", ")),
    })
}
