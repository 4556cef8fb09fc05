//! CPU time of a check as a multiple of a bare parse of the same file.

use super::figure::{Figure, Outcome, median};
use super::program::{Writes, bare_seconds, check_seconds};
use super::sample::Score;
use super::work_folder::WorkFolder;

const RUNS: usize = 5;

/// The most that a check should take, in bare parses.
fn goal(writes: Writes) -> f64 {
    match writes {
        Writes::Json => 3.0,
        Writes::ReportAndJson => 8.0,
    }
}

/// For each score and each kind of check, the median of the runs' ratios.
pub fn figures(scores: &[Score], work: &WorkFolder) -> Outcome<Vec<Figure>> {
    let mut figures = Vec::new();
    for score in scores {
        let mut pairs = [Vec::new(), Vec::new()];
        // Alternating, so that a slow spell of the machine slows both sides of a ratio.
        for _ in 0..RUNS {
            let bare = bare_seconds(&score.path)?;
            for (writes, pairs) in Writes::BOTH.into_iter().zip(&mut pairs) {
                pairs.push((check_seconds(&[&score.path], writes, work)?, bare));
            }
        }
        for (writes, pairs) in Writes::BOTH.into_iter().zip(pairs) {
            let (check, bare) = median(&pairs, |(check, bare)| check / bare)?;
            figures.push(Figure {
                name: format!("CPU, {}, {}", writes.words(), score.name()),
                value: check / bare,
                goal: goal(writes),
                unit: " bare parses",
                from: format!("{:.1} ms / {:.1} ms, median of {RUNS}", check * 1e3, bare * 1e3),
            });
        }
    }
    Ok(figures)
}
