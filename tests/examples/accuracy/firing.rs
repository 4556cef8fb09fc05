//! How often each rule fires: on how many files, and on how many of their pages.
//!
//! A fault of all pages is told by its first page, and counts there.

use std::collections::BTreeSet;

use rastrum::casting_off::{Basis, House, Staves, Wishes, natural_force, propose};
use rastrum::guidelines::{Guidelines, Request};
use rastrum::place::PageIdx;
use rastrum::rules::{Case, Judged, RULES, Weight, judge};

use super::figure::{Figure, Row};
use super::folder::{Folder, Work};

/// One figure a rule, and what has to be mended for each page.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let Ok(guidelines) = Guidelines::load(&Request::default()) else { return Vec::new() };
    let judged: Vec<(&str, u64, Judged)> = folder
        .works()
        .map(|(truth, work)| (truth.file.as_str(), work.layout.pages.len() as u64, judged(work, &guidelines)))
        .collect();
    let rules = RULES.iter().map(|entry| of_rule(entry.name, &judged));
    rules.chain([to_mend(&judged)]).collect()
}

fn judged(work: &Work, guidelines: &Guidelines) -> Judged {
    let Work { reading, metrics, layout, survey } = work;
    let (score, record) = (&reading.score, &reading.record);
    let mut house = House::default();
    house.natural_force = natural_force(score, layout, &metrics.spacing).unwrap_or(house.natural_force);
    house.staves = Staves::by_habit(score, layout);
    let basis = Basis { score, metrics, record, pages: layout, house: &house };
    let proposal = propose(&basis, &Wishes::default());
    judge(
        &Case { score, layout, survey, proposal: proposal.as_ref(), part: None, fit: None, print_on: None },
        guidelines,
    )
}

fn of_rule(rule: &str, judged: &[(&str, u64, Judged)]) -> Figure {
    let mut files = 0;
    let mut missed = 0;
    let rows = judged.iter().map(|(file, pages, judged)| {
        let own = || judged.findings.iter().filter(|finding| finding.rule == rule);
        let places = own().flat_map(|finding| &finding.places);
        let fired: BTreeSet<PageIdx> = places.filter_map(|place| place.page).collect();
        files += u64::from(own().next().is_some());
        let row = Row::new(file, fired.len() as u64, *pages);
        let needs = judged.could_not_run.iter().find(|(name, _)| *name == rule).map(|(_, needs)| needs);
        missed += u64::from(needs.is_some());
        match needs {
            Some(needs) => row.with_note(format!("could not run without {needs}")),
            None => row,
        }
    });
    let rows = rows.collect();
    let note = format!("on {files} of {} files, could not run on {missed}", judged.len());
    Figure::new(format!("{rule} fires"), "pages", rows).with_note(note)
}

/// Findings that stop the rehearsal or are to be mended, for each page.
fn to_mend(judged: &[(&str, u64, Judged)]) -> Figure {
    let rows = judged.iter().map(|(file, pages, judged)| {
        let heavy = judged.findings.iter().filter(|finding| finding.weight >= Weight::Mend).count();
        let all = judged.findings.len();
        Row::new(file, heavy as u64, *pages).with_note(format!("{all} findings of any weight"))
    });
    Figure::new("findings to mend", "pages", rows.collect())
}
