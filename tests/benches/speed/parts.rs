//! CPU time of drawing all players' parts, laying them out and judging them, beside a bare parse of the same file.

use std::path::Path;

use super::figure::{Figure, Outcome, median};
use super::growth;
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
    growth::figure(&format!("all parts, {}", score.name()), &score.path, |movements| {
        Ok((movements.len() as f64, parts_seconds(movements, &["cast-off"], work)?))
    })
}
