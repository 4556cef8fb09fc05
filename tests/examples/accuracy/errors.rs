//! The table of expected errors that ships with the program: how far forecasts of open scores were off.
//!
//! Nothing is judged on what it was learned from: without calibration the natural force comes from the other half of
//! the files, with calibration force and gaps come from a file's first pages and are judged on its later ones.

use std::fmt::Write;

use rastrum::casting_off::Wishes;
use rastrum::layout::{Layout, Origin, PrintedStaff};
use rastrum::place::BarIdx;

use super::figure::percentile;
use super::folder::{Folder, Truth, Work};
use super::forecast::{
    calibrated, force_of_others, forecast, forecast_spread, keeping_systems, natural_force_from, natural_spread,
    orchestra, quartets, recorded,
};

const HEADER: &str = "\
# How far forecasts of open scores were off, as a median and as what nine in ten keep within.
# Generated, never edited: cargo run --release --example accuracy -- FOLDER --write-errors PATH
# Systems, pages and stretch in percent, gaps between staves in spaces; `of` is how many were judged. Uncalibrated: the
# natural spacing is that of other scores. Calibrated: it is learned from the score's own first half of pages and judged
# on the second. Gaps: with recorded systems and pages, the gaps of a house that nothing is known of.
";

/// Errors of one kind.
#[derive(Default)]
struct Errors {
    systems: Vec<f64>,
    pages: Vec<f64>,
    stretch: Vec<f64>,
}

/// The table as a file.
pub fn table(folder: &Folder) -> String {
    let (mut uncalibrated, mut calibrated, mut gaps) = (Errors::default(), Errors::default(), Vec::new());
    for works in [orchestra(folder), quartets(folder)] {
        for (truth, work) in &works {
            uncalibrated.add_whole(folder, &works, truth, work);
            calibrated.add_second_half(work);
            gaps.extend(gaps_off(work));
        }
    }
    let mut text = HEADER.to_owned();
    for (kind, errors) in [("uncalibrated", uncalibrated), ("calibrated", calibrated)] {
        for (what, values) in [("systems", errors.systems), ("pages", errors.pages), ("stretch", errors.stretch)] {
            section(&mut text, &format!("{kind}.{what}"), values);
        }
    }
    section(&mut text, "gaps", gaps);
    text
}

fn section(text: &mut String, name: &str, mut values: Vec<f64>) {
    values.retain(|value| value.is_finite());
    if values.is_empty() {
        return;
    }
    values.sort_by(f64::total_cmp);
    let (median, nine_in_ten) = (percentile(&values, 0.5), percentile(&values, 0.9));
    // Writing to a String cannot fail.
    let _ = write!(text, "\n[{name}]\nmedian = {median:.1}\nnine_in_ten = {nine_in_ten:.1}\nof = {}\n", values.len());
}

impl Errors {
    /// The whole file at the natural force of others.
    fn add_whole(&mut self, folder: &Folder, works: &[(&Truth, &Work)], truth: &Truth, work: &Work) {
        let Some(force) = force_of_others(folder, works, &truth.file) else { return };
        let Some(found) = forecast(work, force, &Wishes::default()) else { return };
        self.systems.push(percent_off(found.systems().count(), recorded(work).count()));
        self.pages.push(percent_off(found.pages.len(), work.layout.pages.len()));
        self.stretch.extend(calibrated(work, usize::MAX).map(|own| 100.0 * (force / own - 1.0).abs()));
    }

    /// The second half of a file's pages, as its first half has them.
    fn add_second_half(&mut self, work: &Work) {
        let pages = &work.layout.pages;
        let middle = pages.len().div_ceil(2);
        let Some(from) = pages.get(middle).and_then(|page| page.span()).map(|span| span.first) else { return };
        let (before, after) = pages.split_at(middle);
        let Some(force) = natural_force_from(work, before) else { return };
        let spread = natural_spread(work, |page| page < middle).unwrap_or(1.0);
        let wishes = Wishes { page_breaks: vec![from], ..Wishes::default() };
        let Some(found) = forecast_spread(work, force, spread, &wishes) else { return };
        let (systems, pages) = from_bar(&found, from);
        self.systems.push(percent_off(systems, after.iter().map(|page| page.systems.len()).sum()));
        self.pages.push(percent_off(pages, after.len()));
        self.stretch.extend(natural_force_from(work, after).map(|own| 100.0 * (force / own - 1.0).abs()));
    }
}

/// Systems and pages that begin with a bar or later.
fn from_bar(layout: &Layout, from: BarIdx) -> (usize, usize) {
    let systems = layout.systems().filter_map(|(_, _, system)| system.span());
    let pages = layout.pages.iter().filter_map(|page| page.span());
    (systems.filter(|span| span.first >= from).count(), pages.filter(|span| span.first >= from).count())
}

fn percent_off(found: usize, recorded: usize) -> f64 {
    100.0 * found.abs_diff(recorded) as f64 / recorded.max(1) as f64
}

/// Recorded gaps between staves of a system, against those of the same systems on the same pages.
fn gaps_off(work: &Work) -> Vec<f64> {
    let breaks = work.layout.pages.iter().filter_map(|page| page.span()).map(|span| span.first).collect();
    let Some(found) = keeping_systems(work, 1.0, breaks) else { return Vec::new() };
    let mut off = Vec::new();
    for (own, found) in recorded(work).zip(found.systems().map(|(_, _, system)| system)) {
        let pairs = own.staves.windows(2).zip(found.staves.windows(2));
        off.extend(pairs.filter_map(|(own, found)| match (own, found) {
            ([_, lower], _) if lower.placed != Origin::Recorded => None,
            ([a, b], [c, d]) if a.staff == c.staff && b.staff == d.staff => Some((gap(a, b) - gap(c, d)).abs()),
            _ => None,
        }));
    }
    off
}

/// In spaces.
fn gap(upper: &PrintedStaff, lower: &PrintedStaff) -> f64 {
    (lower.top - upper.bottom()).in_spaces(upper.height).0
}
