//! What each page holds and needs.

use std::fmt::Write;

use super::spaces;
use crate::layout::{self, PageLayout, SystemLayout};
use crate::orchestra::staff_name;
use crate::paper;
use crate::score::Movement;
use crate::seconds;

/// One row a page.
pub fn table(text: &mut String, movements: &[Movement]) {
    text.push_str(
        "| page | bars | seconds | staves | gaps inside families (spaces) | between families | between systems \
         | clear at the foot (spaces) | gaps whose contents collide | needed / page (spaces) |\n\
         |---|---|---|---|---|---|---|---|---|---|\n",
    );
    for movement in movements {
        let lengths = seconds::of_bars(movement);
        for page in layout::lay_out(movement) {
            let on_page = page.systems.iter().flat_map(|system| &lengths[system.first_bar - 1..system.last_bar]);
            row(text, &page, on_page.sum());
        }
    }
    text.push('\n');
}

fn row(text: &mut String, page: &PageLayout, seconds: f64) {
    let each = |of: &dyn Fn(&SystemLayout) -> String| page.systems.iter().map(of).collect::<Vec<_>>().join(", ");
    let bars = each(&|system| format!("{}-{}", system.first_bar, system.last_bar));
    let staves = each(&|system| system.staves.len().to_string());
    let between_systems: Vec<String> = page.systems.iter().skip(1).map(|system| spaces(system.distance)).collect();
    let between_systems = if between_systems.is_empty() { "-".to_owned() } else { between_systems.join(", ") };
    let collisions: Vec<String> = page.systems.iter().flat_map(collisions).collect();
    let collisions = if collisions.is_empty() { "none".to_owned() } else { collisions.join("; ") };
    let _ = writeln!(
        text,
        "| {} | {bars} | {seconds:.1} | {staves} | {} | {} | {between_systems} | {} | {collisions} | {} / {} |",
        page.number,
        range(page, false),
        range(page, true),
        spaces(foot(page)),
        spaces(needed(page)),
        spaces(paper::page_height() - paper::MARGIN_TOP - paper::MARGIN_BOTTOM),
    );
}

fn range(page: &PageLayout, between_families: bool) -> String {
    let chosen = |system: &SystemLayout| -> Vec<f64> {
        let wanted = |(at, gap): (usize, &f64)| (system.is_between_families(at) == between_families).then_some(*gap);
        system.gaps.iter().enumerate().filter_map(wanted).collect()
    };
    let gaps: Vec<f64> = page.systems.iter().flat_map(chosen).collect();
    let least = gaps.iter().copied().fold(f64::INFINITY, f64::min);
    let most = gaps.iter().copied().fold(0.0, f64::max);
    if least == most { spaces(least) } else { format!("{} to {}", spaces(least), spaces(most)) }
}

/// Gaps narrower than what stands in them: upper and lower staff, gap and contents.
fn collisions(system: &SystemLayout) -> Vec<String> {
    let told = |(at, (gap, contents)): (usize, (&f64, &f64))| {
        let (upper, lower) = (staff_name(system.staves[at]), staff_name(system.staves[at + 1]));
        (contents > gap).then(|| format!("{upper} / {lower}: {} < {}", spaces(*gap), spaces(*contents)))
    };
    system.gaps.iter().zip(&system.contents).enumerate().filter_map(told).collect()
}

/// From the bottom staff to the bottom margin.
pub fn foot(page: &PageLayout) -> f64 {
    let stack: f64 = page.systems.iter().map(|system| system.distance + system.height()).sum();
    paper::page_height() - paper::MARGIN_TOP - paper::MARGIN_BOTTOM - stack
}

/// What a page's contents need from margin to margin, with a clear space in each gap.
pub fn needed(page: &PageLayout) -> f64 {
    let least = |system: &SystemLayout| {
        let gaps = system.contents.iter().map(|contents| (contents + 10.0 * layout::CLEARANCE).max(40.0));
        let staves = paper::STAFF_TENTHS * system.staves.len() as f64;
        system.over_top + 10.0 + staves + gaps.sum::<f64>() + system.under_foot
    };
    page.systems.iter().map(least).sum()
}
