//! How CPU time grows with the length of the music.

use std::path::Path;

use super::figure::{Figure, Outcome, median};
use super::program::{Writes, bars, check_seconds};
use super::sample::Score;
use super::work_folder::WorkFolder;

const RUNS: usize = 5;

/// How often the same music is given, as movements of one work.
pub(super) const TIMES: [usize; 4] = [1, 2, 4, 8];

/// The steepest slope of log CPU time on log bars: 1 is in proportion, 2 is quadratic.
pub(super) const GOAL: f64 = 1.15;

/// The slopes for the largest score.
pub fn figures(scores: &[Score], work: &WorkFolder) -> Outcome<Vec<Figure>> {
    let largest = scores.last().ok_or("no score to measure")?;
    Writes::BOTH.into_iter().map(|writes| slope_of(largest, writes, work)).collect()
}

fn slope_of(score: &Score, writes: Writes, work: &WorkFolder) -> Outcome<Figure> {
    let mut runs = TIMES.map(|_| Vec::new());
    let mut lengths = TIMES.map(|_| 0.0);
    for _ in 0..RUNS {
        for ((times, runs), length) in TIMES.into_iter().zip(&mut runs).zip(&mut lengths) {
            let movements = vec![Path::new(&score.path); times];
            runs.push(check_seconds(&movements, writes, work)?);
            *length = bars(work)?;
        }
    }
    let mut points = Vec::new();
    for (length, runs) in lengths.into_iter().zip(&runs) {
        points.push((length, median(runs, |seconds| seconds)?));
    }
    let shown: Vec<String> =
        points.iter().map(|(bars, seconds)| format!("{:.1} ms / {bars} bars", seconds * 1e3)).collect();
    Ok(Figure {
        name: format!("slope of log CPU on log bars, {}, {}", writes.words(), score.name()),
        value: slope(&points),
        goal: GOAL,
        unit: "",
        from: format!("{}; medians of {RUNS}", shown.join(", ")),
    })
}

/// Of the straight line that fits the logarithms best by least squares.
pub(super) fn slope(points: &[(f64, f64)]) -> f64 {
    let logs: Vec<(f64, f64)> = points.iter().map(|(x, y)| (x.ln(), y.ln())).collect();
    let count = logs.len() as f64;
    let mean_x = logs.iter().map(|(x, _)| x).sum::<f64>() / count;
    let mean_y = logs.iter().map(|(_, y)| y).sum::<f64>() / count;
    let covariance: f64 = logs.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    let variance: f64 = logs.iter().map(|(x, _)| (x - mean_x).powi(2)).sum();
    covariance / variance
}
