//! How CPU time grows with the length of the music.
//!
//! Each time is held against a bare parse right beside it, so that a slow spell of the machine bends no slope.

use std::path::Path;

use super::figure::{Figure, Outcome, median};
use super::program::{Writes, bare_seconds, bars, check_seconds};
use super::sample::Score;
use super::work_folder::WorkFolder;

const RUNS: usize = 5;

/// How often the same music is given, as movements of one work.
const TIMES: [usize; 4] = [1, 2, 4, 8];

/// The steepest slope of log CPU time on log bars: 1 is in proportion, 2 is quadratic.
const GOAL: f64 = 1.15;

/// The slopes for the largest score.
pub fn figures(scores: &[Score], work: &WorkFolder) -> Outcome<Vec<Figure>> {
    let largest = scores.last().ok_or("no score to measure")?;
    Writes::BOTH.into_iter().map(|writes| slope_of(largest, writes, work)).collect()
}

fn slope_of(score: &Score, writes: Writes, work: &WorkFolder) -> Outcome<Figure> {
    let what = format!("{}, {}", writes.words(), score.name());
    figure(&what, &score.path, |movements| {
        let seconds = check_seconds(movements, writes, work)?;
        Ok((bars(work)?, seconds))
    })
}

/// The slope of what one run takes: for so many movements, the length of the music and the seconds.
pub(super) fn figure(what: &str, score: &Path, run: impl Fn(&[&Path]) -> Outcome<(f64, f64)>) -> Outcome<Figure> {
    let mut runs = TIMES.map(|_| Vec::new());
    for _ in 0..RUNS {
        for (times, runs) in TIMES.into_iter().zip(&mut runs) {
            let bare = bare_seconds(score)?;
            let (length, seconds) = run(&vec![score; times])?;
            runs.push((length, seconds / bare));
        }
    }
    let points = runs.iter().map(|runs| median(runs, |(_, ratio)| ratio)).collect::<Outcome<Vec<_>>>()?;
    let shown: Vec<String> = points.iter().map(|(length, ratio)| format!("{ratio:.2} B / {length}")).collect();
    Ok(Figure {
        name: format!("slope of log CPU on log bars, {what}"),
        value: slope(&points),
        goal: GOAL,
        unit: "",
        from: format!("{}; B a bare parse of the file beside it, medians of {RUNS}", shown.join(", ")),
    })
}

/// Of the straight line that fits the logarithms best by least squares.
fn slope(points: &[(f64, f64)]) -> f64 {
    let logs: Vec<(f64, f64)> = points.iter().map(|(x, y)| (x.ln(), y.ln())).collect();
    let count = logs.len() as f64;
    let mean_x = logs.iter().map(|(x, _)| x).sum::<f64>() / count;
    let mean_y = logs.iter().map(|(_, y)| y).sum::<f64>() / count;
    let covariance: f64 = logs.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    let variance: f64 = logs.iter().map(|(x, _)| (x - mean_x).powi(2)).sum();
    covariance / variance
}
