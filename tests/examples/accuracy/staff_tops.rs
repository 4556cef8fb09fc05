//! Tops of staves against engraved pages of the same layout.

use std::collections::BTreeMap;

use rastrum::layout::{Layout, PrintedStaff};

use super::figure::{Figure, Row, percentile};
use super::folder::{Folder, read_text};

/// The truth file: work, page, staff on the page, top by an independent reading of the score, top on the engraved page.
const FILE: &str = "quartets-staff-tops.csv";
/// What counts as the same place, in millimetres.
const WITHIN: f64 = 0.05;

/// A staff's page and place on it, both counted from 1, and its top on the engraved page.
type Top = (usize, usize, f64);

/// How many staves stand where the engraved page has them.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let Ok(text) = read_text(&folder.path.join(FILE)) else {
        eprintln!("{FILE} is not in the folder: staff tops are not measured");
        return Vec::new();
    };
    let mut by_work: BTreeMap<&str, Vec<Top>> = BTreeMap::new();
    for (work, top) in text.lines().skip(1).filter_map(line) {
        by_work.entry(work).or_default().push(top);
    }
    let mut all = Vec::new();
    let rows = by_work.iter().map(|(work, tops)| {
        let layout = folder.works().find(|(truth, _)| truth.file.split('/').any(|folder| folder == *work));
        let mut off: Vec<f64> = layout.map_or_else(Vec::new, |(_, found)| {
            tops.iter().filter_map(|top| Some((staff(&found.layout, *top)?.top.0 - top.2).abs())).collect()
        });
        off.sort_by(f64::total_cmp);
        all.extend_from_slice(&off);
        let good = off.iter().filter(|off| **off <= WITHIN).count();
        Row::new(work, good as u64, tops.len() as u64).with_note(format!("max {:.3} mm", percentile(&off, 1.0)))
    });
    let rows = rows.collect();
    all.sort_by(f64::total_cmp);
    let note = format!("median {:.3} mm, max {:.3} mm", percentile(&all, 0.5), percentile(&all, 1.0));
    vec![Figure::new(format!("staff tops within {WITHIN} mm of the engraved page"), "staves", rows).with_note(note)]
}

fn line(line: &str) -> Option<(&str, Top)> {
    let mut fields = line.split(',');
    let work = fields.next()?;
    let (page, staff) = (fields.next()?.parse().ok()?, fields.next()?.parse().ok()?);
    Some((work, (page, staff, fields.nth(1)?.trim().parse().ok()?)))
}

fn staff(layout: &Layout, (page, staff, _): Top) -> Option<&PrintedStaff> {
    let page = layout.pages.get(page.checked_sub(1)?)?;
    page.systems.iter().flat_map(|system| &system.staves).nth(staff.checked_sub(1)?)
}
