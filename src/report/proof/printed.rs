//! What is said of printed pages: "84 bars printed, 92 composed: 8 missing after C."

use crate::check::{PrintedProof, Proofed};
use crate::join::{Missing, SystemFit};
use crate::place::BarIdx;
use crate::score::{Score, SystemMarkKind};
use crate::words::{all_listed, counted, sentence};

/// One line a file, in order.
pub(super) fn lines(proofed: &Proofed) -> Vec<String> {
    proofed.printed.iter().map(|own| line(own, &proofed.score)).collect()
}

fn line(own: &PrintedProof, score: &Score) -> String {
    let who = own.player.as_deref().unwrap_or("The score");
    let printed: u32 = own.fit.systems.iter().map(|system| system.bars_counted).sum();
    let counts = format!("{} printed, {} composed", counted(printed as usize, "bar"), own.fit.bars_total);
    let missing: Vec<String> = own.fit.missing.iter().map(|missing| of_missing(missing, score)).collect();
    let odd: Vec<&SystemFit> = own.fit.systems.iter().filter(|system| !system.is_even()).collect();
    let fits = match (missing.as_slice(), odd.first()) {
        ([], None) => "none is missing".to_owned(),
        ([], Some(first)) => format!(
            "{} could not be told bar by bar, the first on page {}",
            counted(odd.len(), "system"),
            first.page.0 + 1
        ),
        (missing, _) => all_listed(missing),
    };
    format!("{} ({}): {counts}: {fits}.", sentence(who), own.file)
}

/// "8 missing after C (bars 40 to 47, between pages 3 and 4 of the file)".
fn of_missing(missing: &Missing, score: &Score) -> String {
    let bars = score.span_label(missing.bars);
    let page = |at: Option<(crate::place::PageIdx, u16)>| at.map(|(page, _)| page.0 + 1);
    let place = match (page(missing.after), page(missing.before)) {
        (Some(after), Some(before)) if after == before => format!(", on page {after} of the file"),
        (Some(after), Some(before)) => format!(", between pages {after} and {before} of the file"),
        (Some(after), None) => format!(", behind page {after} of the file"),
        (None, Some(before)) => format!(", before page {before} of the file"),
        (None, None) => String::new(),
    };
    format!("{} missing {} ({bars}{place})", missing.bars.count(), after(missing.bars.first, score))
}

/// "after C", "after bar 39", "at the beginning".
fn after(first: BarIdx, score: &Score) -> String {
    let Some(before) = first.0.checked_sub(1).map(BarIdx) else { return "at the beginning".to_owned() };
    let mark = score.marks.iter().rev().find_map(|mark| match &mark.kind {
        SystemMarkKind::Rehearsal(text) if mark.bar <= first => Some(text.trim()),
        _ => None,
    });
    mark.map_or_else(|| format!("after bar {}", score.label(before)), |mark| format!("after {mark}"))
}
