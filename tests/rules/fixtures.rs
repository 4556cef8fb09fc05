//! The scores of `tests/fixtures/rules`, judged.

use std::path::PathBuf;

use rastrum::casting_off::{Basis, House, Staves, Wishes, natural_force, pages, propose};
use rastrum::engraved::measure;
use rastrum::guidelines::{Document, Guidelines, Request};
use rastrum::join::{alone, join};
use rastrum::layout::Layout;
use rastrum::limits::Limits;
use rastrum::metrics::Metrics;
use rastrum::paper::Paper;
use rastrum::players::draw;
use rastrum::read::{Input, read};
use rastrum::rules::{Case, Judged, PrintOn, judge, judge_music};
use rastrum::score::Score;
use rastrum::survey::survey;

use super::part::Alone;

/// The two scores of a rule: one with the fault, one that just keeps the limit.
pub const NAMES: [&str; 2] = ["good", "faulty"];

pub fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/rules")
}

/// The text of `good` or `faulty` of a rule; of rules that only printed pages serve, that of a PDF.
pub fn text(rule: &str, name: &str) -> String {
    let music = folder().join(rule).join(format!("{name}.musicxml"));
    let path = if music.exists() { music } else { folder().join(rule).join(format!("{name}.pdf")) };
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Printed pages, joined with the music that their second line names or alone.
fn judged_pages(text: &str, guidelines: &Guidelines) -> (Score, Layout, Judged) {
    let pages = measure(text.as_bytes(), &Limits::default()).unwrap();
    let music = text.lines().nth(1).and_then(|line| line.strip_prefix("% music: "));
    let (score, layout, fit) = match music {
        Some(name) => {
            let bytes = std::fs::read(folder().join(name)).unwrap();
            let score = read(&[Input { name, bytes: &bytes }], &Limits::default()).unwrap().score;
            let joined = join(&pages, &score);
            (score, joined.layout, Some(joined.fit))
        }
        None => {
            let (score, layout) = alone(&pages);
            (score, layout, None)
        }
    };
    let survey = survey(&score, &layout, &Metrics::of(&score).extents);
    let (score_of, fit) = (&score, fit.as_ref());
    let case =
        Case { score: score_of, layout: &layout, survey: &survey, proposal: None, part: None, fit, print_on: None };
    let judged = judge(&case, guidelines);
    (score, layout, judged)
}

pub fn guidelines(changes: &[&str]) -> Guidelines {
    let changes = changes.iter().map(|change| (*change).to_owned()).collect();
    Guidelines::load(&Request { changes, ..Request::default() }).unwrap_or_else(|errors| panic!("{errors}"))
}

/// Reads a score, casts it off as recorded, looks for better pages, surveys and judges it; a part alone with its turns.
pub fn judged(text: &str, guidelines: &Guidelines, print_on: Option<&str>) -> (Score, Layout, Judged) {
    if text.starts_with("%PDF") {
        return judged_pages(text, guidelines);
    }
    let mut reading = read(&[Input { name: "score.musicxml", bytes: text.as_bytes() }], &Limits::default()).unwrap();
    // A player's part with cues, and the others whom they come from.
    let orchestra = reading.score.clone();
    let has_cues = orchestra.cells.iter().flat_map(|cell| &cell.events).any(|event| event.cue);
    if orchestra.parts.len() > 1 && has_cues {
        reading.score = draw(&orchestra, None).players.swap_remove(0).music;
    }
    let metrics = Metrics::of(&reading.score);
    let mut house = House::default();
    let layout = pages(&reading.score, &metrics, &reading.record, &house);
    house.natural_force = natural_force(&reading.score, &layout, &metrics.spacing).unwrap_or(house.natural_force);
    house.staves = Staves::by_habit(&reading.score, &layout);
    let survey = survey(&reading.score, &layout, &metrics.extents);
    let paper = print_on.map(|name| Paper::find(name).unwrap());
    let print_on = paper.as_ref().map(|paper| PrintOn { name: &paper.name, size: (paper.width, paper.height) });
    let (score, record) = (&reading.score, &reading.record);
    let proposal =
        propose(&Basis { score, metrics: &metrics, record, pages: &layout, house: &house }, &Wishes::default());
    let part = Alone::of(score, &orchestra, &layout, &metrics);
    let part = part.as_ref().map(Alone::case);
    let case = Case { score, layout: &layout, survey: &survey, proposal: proposal.as_ref(), part, fit: None, print_on };
    let mut judged = judge(&case, guidelines);
    // Rules for the music alone, as `proof` runs them, beside those for pages.
    let of_music = judge_music(&case, guidelines);
    let only = |rule: &str| guidelines.rule(rule).is_some_and(|sheet| sheet.applies_to == [Document::Music]);
    judged.findings.extend(of_music.findings.into_iter().filter(|finding| only(finding.rule)));
    judged.ran.extend(of_music.ran.into_iter().filter(|rule| only(rule)));
    judged.off.retain(|rule| !only(rule));
    (reading.score, layout, judged)
}
