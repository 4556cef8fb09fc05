//! How many systems a forecast needs, against the recorded ones.

use rastrum::casting_off::Wishes;
use rastrum::place::BarIdx;

use super::figure::{Figure, Row, percentile};
use super::folder::{Folder, Truth, Work};
use super::forecast::{calibrated, force_of_others, forecast, orchestra, recorded, starts};

/// So many of a hundred systems too many or too few are one of twenty.
const ONE_OF_TWENTY: f64 = 5.0;

/// What was forecast for a file and what is recorded, in systems.
struct Count {
    found: usize,
    recorded: usize,
    force: f64,
}

/// Orchestral scores: without calibration, calibrated on their own beginning, calibrated on their sister movements.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let works = orchestra(folder);
    let figures = [uncalibrated(folder, &works), own_beginning(&works), sisters(&works)];
    figures.into_iter().filter(|figure| figure.denominator > 0).collect()
}

/// One natural force for all scores, the middle one of the other half's.
fn uncalibrated(folder: &Folder, works: &[(&Truth, &Work)]) -> Figure {
    let counts = works.iter().filter_map(|(truth, work)| {
        let force = force_of_others(folder, works, &truth.file)?;
        Some((truth.file.clone(), whole(work, force)?))
    });
    let counts: Vec<(String, Count)> = counts.collect();
    let good = |count: &Count| count.percent_off() <= ONE_OF_TWENTY;
    figure("systems forecast without calibration within one of twenty (the other half's spacing)", &counts, good)
}

/// Calibrated on the first half of a score's systems, judged on the second.
fn own_beginning(works: &[(&Truth, &Work)]) -> Figure {
    let counts = works.iter().filter_map(|(truth, work)| {
        let all = starts(&work.layout);
        let middle = all.len().div_ceil(2);
        let from = *all.get(middle)?;
        let force = calibrated(work, middle)?;
        let wishes = Wishes { system_breaks: vec![from], ..Wishes::default() };
        let found = starts(&forecast(work, force, &wishes)?);
        let later = |starts: &[BarIdx]| starts.iter().filter(|bar| **bar >= from).count();
        Some((truth.file.clone(), Count { found: later(&found), recorded: later(&all), force }))
    });
    let good = |count: &Count| count.found.abs_diff(count.recorded) <= 1;
    figure("systems of the second half within one, calibrated on the first", &counts.collect::<Vec<_>>(), good)
}

/// Calibrated on another movement of the same work.
fn sisters(works: &[(&Truth, &Work)]) -> Figure {
    let mut counts = Vec::new();
    for (truth, work) in works {
        for (other, like) in works.iter().filter(|(other, _)| are_sisters(&truth.file, &other.file)) {
            let count = calibrated(like, usize::MAX).and_then(|force| whole(work, force));
            counts.extend(count.map(|count| (format!("{} like {}", name(&truth.file), name(&other.file)), count)));
        }
    }
    let good = |count: &Count| count.percent_off() <= ONE_OF_TWENTY;
    figure("systems forecast like another movement within one of twenty", &counts, good)
}

/// Movements of one work share their name up to the last hyphen.
fn are_sisters(one: &str, other: &str) -> bool {
    let work = |file: &str| file.rsplit_once('-').map(|(work, _)| work.to_owned());
    one != other && work(one).is_some() && work(one) == work(other)
}

fn name(file: &str) -> &str {
    let name = file.rsplit('/').next().unwrap_or(file);
    name.strip_suffix(".mxl").unwrap_or(name)
}

fn whole(work: &Work, force: f64) -> Option<Count> {
    let found = starts(&forecast(work, force, &Wishes::default())?).len();
    Some(Count { found, recorded: recorded(work).count(), force })
}

fn figure(name: &str, counts: &[(String, Count)], good: impl Fn(&Count) -> bool) -> Figure {
    let rows = counts.iter().map(|(file, count)| {
        let Count { found, recorded, force } = count;
        let note = format!("{found} for {recorded} ({:+.1} %) at force {force:.3}", count.signed_percent_off());
        Row::new(file, u64::from(good(count)), 1).with_note(note)
    });
    let mut off: Vec<f64> = counts.iter().map(|(_, count)| count.percent_off()).collect();
    off.sort_by(f64::total_cmp);
    let note = format!("error: median {:.1} %, largest {:.1} %", percentile(&off, 0.5), percentile(&off, 1.0));
    Figure::new(name, "forecasts", rows.collect()).with_note(note)
}

impl Count {
    fn signed_percent_off(&self) -> f64 {
        100.0 * (self.found as f64 - self.recorded as f64) / self.recorded.max(1) as f64
    }

    fn percent_off(&self) -> f64 {
        self.signed_percent_off().abs()
    }
}
