//! Engraved pages measured, against the truth files: staves, systems, tops and heights of staves.

use std::path::Path;

use rastrum::engraved::{EngravedPage, EngravedStaff, measure};
use rastrum::layout::StaffRole;
use rastrum::limits::Limits;

use super::figure::{Figure, Row};
use super::folder::Folder;

/// What a truth may be missed by.
const NEAR: f64 = 0.05;

pub fn figures(folder: &Folder) -> Vec<Figure> {
    let truths = truths(&folder.path);
    let (mut staves, mut systems, mut heights) = (Vec::new(), Vec::new(), Vec::new());
    let mut files: Vec<String> = truths.iter().map(|truth| truth.file.clone()).collect();
    files.dedup();
    for file in files {
        let Some(pages) = pages(&folder.path.join(&file)) else { continue };
        let own: Vec<&Truth> = truths.iter().filter(|truth| truth.file == file).collect();
        let truth = own.first();
        let told = |of: &dyn Fn(&EngravedPage) -> usize| pages.iter().map(of).collect::<Vec<_>>();
        let (own_staves, own_systems) = (told(&|page| page.staves().count()), told(&|page| page.systems.len()));
        let Some(truth) = truth else { continue };
        staves.push(compared(&file, &own_staves, &truth.staves));
        systems.push(compared(&file, &own_systems, &truth.systems));
        let first = pages.iter().flat_map(EngravedPage::staves).find(|staff| staff.lines == 5);
        let height = first.map_or(0.0, |staff| staff.rect.height().0);
        let near = (height - truth.height).abs() <= NEAR;
        heights.push(Row::new(&file, u64::from(near), 1).with_note(format!("{height:.2} mm for {:.2}", truth.height)));
    }
    vec![
        tops(&folder.path),
        Figure::new("engraved pages with as many staves as the truth has", "pages", staves),
        Figure::new("engraved pages with as many systems as the truth has", "pages", systems),
        Figure::new("engraved files whose staff height is within 0.05 mm", "files", heights),
        two_sizes(&folder.path),
    ]
}

/// A piano trio's score whose upper staff is small. Counted by eye: four pages of four systems of three staves.
fn two_sizes(folder: &Path) -> Figure {
    const SIZES: [f64; 3] = [4.62, 6.60, 6.60];
    const SYSTEMS: [usize; 4] = [4; 4];
    let file = "pages/cue-staff-score.pdf";
    let pages = pages(&folder.join(file)).unwrap_or_default();
    let fits = |(page, systems): (&EngravedPage, &usize)| {
        let near = |(staff, size): (&EngravedStaff, &f64)| {
            let is_cue = staff.role == StaffRole::Cue;
            (staff.rect.height().0 - size).abs() <= NEAR && is_cue == (*size < 5.0)
        };
        page.systems.len() == *systems
            && page.systems.iter().all(|own| own.staves.len() == SIZES.len() && own.staves.iter().zip(&SIZES).all(near))
    };
    let same = pages.iter().zip(&SYSTEMS).filter(|own| fits(*own)).count();
    let all = if folder.join(file).exists() { SYSTEMS.len().max(pages.len()) } else { 0 };
    Figure::new("pages on which both sizes of staves are found", "pages", vec![Row::new(file, same as u64, all as u64)])
}

fn compared(file: &str, own: &[usize], truth: &[usize]) -> Row {
    let same = own.iter().zip(truth).filter(|(own, truth)| own == truth).count();
    let other: Vec<String> = (1..)
        .zip(own.iter().zip(truth))
        .filter(|(_, (own, truth))| own != truth)
        .map(|(page, (own, truth))| format!("p. {page}: {own} for {truth}"))
        .collect();
    Row::new(file, same as u64, truth.len().max(own.len()) as u64).with_note(other.join(", "))
}

fn pages(path: &Path) -> Option<Vec<EngravedPage>> {
    measure(&std::fs::read(path).ok()?, &Limits::default()).ok()
}

/// One line of `pages-truth-all.csv`.
struct Truth {
    file: String,
    staves: Vec<usize>,
    systems: Vec<usize>,
    height: f64,
}

fn truths(folder: &Path) -> Vec<Truth> {
    let text = std::fs::read_to_string(folder.join("pages-truth-all.csv")).unwrap_or_default();
    let numbers = |text: &str| text.split_whitespace().filter_map(|number| number.parse().ok()).collect();
    text.lines()
        .skip(1)
        .filter_map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            let [file, _, staves, systems, height] = cells.as_slice() else { return None };
            Some(Truth {
                file: (*file).to_owned(),
                staves: numbers(staves),
                systems: numbers(systems),
                height: height.trim().parse().ok()?,
            })
        })
        .collect()
}

/// Page and staff on it, from 1; its top line from the top of the paper, in millimetres.
type Top = (usize, usize, f64);

/// Every staff of the quartets by its top line, as an independent reading of the same PDF has it.
fn tops(folder: &Path) -> Figure {
    let text = std::fs::read_to_string(folder.join("quartets-staff-tops.csv")).unwrap_or_default();
    let mut works: Vec<(String, Vec<Top>)> = Vec::new();
    for line in text.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [work, page, staff, _, top] = cells.as_slice() else { continue };
        let (Ok(page), Ok(staff), Ok(top)) = (page.parse(), staff.parse(), top.parse()) else { continue };
        match works.last_mut().filter(|(own, _)| own == work) {
            Some((_, rows)) => rows.push((page, staff, top)),
            None => works.push(((*work).to_owned(), vec![(page, staff, top)])),
        }
    }
    let mut farthest: f64 = 0.0;
    let rows = works.iter().map(|(work, truth)| {
        let pages = pages(&folder.join("quartets").join(work).join("score.pdf")).unwrap_or_default();
        let off = |(page, staff, top): &(usize, usize, f64)| {
            let own = pages.get(page - 1)?.staves().nth(staff - 1)?.rect.top.0;
            Some((own - top).abs())
        };
        let all: Vec<f64> = truth.iter().filter_map(off).collect();
        farthest = all.iter().copied().fold(farthest, f64::max);
        Row::new(work, all.iter().filter(|off| **off <= NEAR).count() as u64, truth.len() as u64)
    });
    let rows: Vec<Row> = rows.collect();
    Figure::new("staff tops measured on engraved quartets within 0.05 mm", "staves", rows)
        .with_note(format!("farthest {farthest:.3} mm"))
}
