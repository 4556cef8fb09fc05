//! CPU time of laying pages out, beside a bare parse of the same file: forecast and proposal, and a table of papers.

use super::figure::{Figure, Outcome, median};
use super::program::{bare_seconds, stage_seconds};
use super::sample::Score;
use super::work_folder::WorkFolder;

const RUNS: usize = 5;

/// Stages of a check with an option, and the most that they should take in bare parses.
const LAID_OUT: [(&str, &str, &[&str], f64); 2] = [
    ("forecast and proposal", "--forecast", &["cast-off", "propose"], 0.5),
    ("all papers and staff heights", "--what-if", &["what-if"], 1.0),
];

/// For the largest score, the median of the runs' ratios.
pub fn figures(scores: &[Score], work: &WorkFolder) -> Outcome<Vec<Figure>> {
    let score = scores.last().ok_or("no score to measure")?;
    let figure = |(name, option, stages, goal): (&str, &str, &[&str], f64)| {
        let mut pairs = Vec::new();
        for _ in 0..RUNS {
            let bare = bare_seconds(&score.path)?;
            pairs.push((stage_seconds(&score.path, option, stages, work)?, bare));
        }
        let (own, bare) = median(&pairs, |(own, bare)| own / bare)?;
        Ok(Figure {
            name: format!("CPU, {name}, {}", score.name()),
            value: own / bare,
            goal,
            unit: " bare parses",
            from: format!("{:.1} ms / {:.1} ms, median of {RUNS}", own * 1e3, bare * 1e3),
        })
    };
    LAID_OUT.into_iter().map(figure).collect()
}
