//! CPU seconds of each stage.

use rastrum::check::{Stage, Watch};

use super::clock::cpu_seconds;
use super::progress::Progress;

/// Notes when each stage begins, and shows it to whoever watches.
#[derive(Debug)]
pub struct Stopwatch {
    progress: Progress,
    begun: Vec<(Stage, Option<f64>)>,
}

impl Stopwatch {
    #[must_use]
    pub fn start() -> Stopwatch {
        Stopwatch { progress: Progress::start(), begun: Vec::new() }
    }

    /// Ends the last stage: one line of JSON with the seconds of each, `null` where the system does not tell.
    /// "total" counts from the start of the process.
    #[must_use]
    pub fn stop(self) -> String {
        let now = cpu_seconds();
        let ends = self.begun.iter().skip(1).map(|(_, begun)| *begun).chain([now]);
        let stages = self.begun.iter().zip(ends).map(|((stage, begun), end)| (stage.name(), difference(end, *begun)));
        // A stage that comes again, as for each draft, counts once with all its time.
        let mut sums: Vec<(&str, Option<f64>)> = Vec::new();
        for (name, seconds) in stages.chain([("total", now)]) {
            match sums.iter_mut().find(|(known, _)| *known == name) {
                Some((_, sum)) => *sum = sum.zip(seconds).map(|(sum, more)| sum + more),
                None => sums.push((name, seconds)),
            }
        }
        let mut timings = serde_json::Map::new();
        for (name, seconds) in sums {
            timings.insert(name.to_owned(), seconds.map(|s| (s * 1e6).round() / 1e6).into());
        }
        format!("{}\n", serde_json::Value::Object(timings))
    }
}

impl Watch for Stopwatch {
    fn begins(&mut self, stage: Stage) {
        self.progress.show(stage);
        self.begun.push((stage, cpu_seconds()));
    }
}

fn difference(end: Option<f64>, begin: Option<f64>) -> Option<f64> {
    Some(end? - begin?)
}
