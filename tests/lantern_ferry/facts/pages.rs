//! What each page holds and needs.

use std::fmt::Write;

use rastrum::units::{Seconds, Spaces};

use super::spaces;
use crate::layout::{self, PageLayout, SystemLayout};
use crate::orchestra::staff_name;
use crate::paper;
use crate::score::Movement;
use crate::seconds;

/// One row a page.
pub fn table(movements: &[Movement]) -> String {
    let mut text =
        "| page | bars | seconds | staves | gaps inside families (spaces) | between families | between systems \
                    | clear at the foot (spaces) | gaps whose contents collide | needed / page (spaces) |\n\
                    |---|---|---|---|---|---|---|---|---|---|\n"
            .to_owned();
    for movement in movements {
        let lengths = seconds::of_bars(movement);
        for page in layout::lay_out(movement) {
            let on_page = page.systems.iter().flat_map(|system| &lengths[system.first_bar - 1..system.last_bar]);
            row(&mut text, &page, on_page.copied().sum());
        }
    }
    text
}

fn row(text: &mut String, page: &PageLayout, seconds: Seconds) {
    let each = |of: &dyn Fn(&SystemLayout) -> String| page.systems.iter().map(of).collect::<Vec<_>>().join(", ");
    let bars = each(&|system| format!("{}-{}", system.first_bar, system.last_bar));
    let staves = each(&|system| system.staves.len().to_string());
    let between_systems = page.systems.get(1).map_or("-".to_owned(), |lower| spaces(lower.distance));
    let collisions: Vec<String> = page.systems.iter().flat_map(collisions).collect();
    let collisions = if collisions.is_empty() { "none".to_owned() } else { collisions.join("; ") };
    let _ = writeln!(
        text,
        "| {} | {bars} | {:.1} | {staves} | {} | {} | {between_systems} | {} | {collisions} | {} / {} |",
        page.number,
        seconds.0,
        range(page, false),
        range(page, true),
        spaces(foot(page)),
        spaces(needed(page)),
        spaces(page.height),
    );
}

fn range(page: &PageLayout, between_families: bool) -> String {
    let gaps: Vec<Spaces> = page.systems.iter().flat_map(|system| gaps(system, between_families)).collect();
    let least = gaps.iter().copied().fold(Spaces(f64::INFINITY), Spaces::min);
    let most = gaps.iter().copied().fold(Spaces::ZERO, Spaces::max);
    let (least, most) = (spaces(least), spaces(most));
    if least == most { least } else { format!("{least} to {most}") }
}

/// The gaps between families, or those inside them.
pub fn gaps(system: &SystemLayout, between_families: bool) -> impl Iterator<Item = Spaces> {
    let wanted = move |&at: &usize| system.is_between_families(at) == between_families;
    (0..system.gaps.len()).filter(wanted).map(|at| system.gaps[at])
}

/// Gaps narrower than what stands in them: upper and lower staff, gap and contents.
pub fn collisions(system: &SystemLayout) -> Vec<String> {
    let told = |(at, (gap, contents)): (usize, (&Spaces, &Spaces))| {
        let (upper, lower) = (staff_name(system.staves[at]), staff_name(system.staves[at + 1]));
        (contents > gap).then(|| format!("{upper} / {lower}: {} < {}", spaces(*gap), spaces(*contents)))
    };
    system.gaps.iter().zip(&system.contents).enumerate().filter_map(told).collect()
}

/// From the bottom staff to the bottom margin.
pub fn foot(page: &PageLayout) -> Spaces {
    page.height - page.systems.iter().map(|system| system.distance + system.height()).sum()
}

/// What a page's contents need from margin to margin, with a clear space in each gap and four at least.
pub fn needed(page: &PageLayout) -> Spaces {
    let least = |system: &SystemLayout| {
        let gaps: Spaces =
            system.contents.iter().map(|&contents| (contents + layout::CLEARANCE).max(Spaces(4.0))).sum();
        let staves = paper::STAFF * system.staves.len() as f64;
        system.over_top + layout::CLEARANCE + staves + gaps + system.under_foot
    };
    page.systems.iter().map(least).sum()
}
