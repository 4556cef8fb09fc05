//! How dense pages and cells are: the distribution that limits for crowded pages and bars are taken from.

use super::figure::{Figure, Row, percentile};
use super::folder::Folder;

/// Pages and cells whose density is known.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let (mut pages, mut cells) = (Vec::new(), Vec::new());
    let (mut page_rows, mut cell_rows) = (Vec::new(), Vec::new());
    for (truth, work) in folder.works() {
        let of_pages: Vec<f64> = work.survey.pages.iter().filter_map(|page| page.density).collect();
        let grid = work.survey.density.cells.iter();
        let of_cells: Vec<f64> = grid.clone().filter_map(|cell| cell.per_100_spaces).map(f64::from).collect();
        page_rows.push(row(&truth.file, of_pages.clone(), work.survey.pages.len()));
        cell_rows.push(row(&truth.file, of_cells.clone(), grid.filter(|cell| cell.sounds).count()));
        pages.extend(of_pages);
        cells.extend(of_cells);
    }
    vec![
        Figure::new("pages of known density (symbols per 100 spaces, dense end)", "pages", page_rows)
            .with_note(note(pages)),
        Figure::new("sounding cells of known density", "cells", cell_rows).with_note(note(cells)),
    ]
}

fn row(file: &str, values: Vec<f64>, all: usize) -> Row {
    Row::new(file, values.len() as u64, all as u64).with_note(note(values))
}

fn note(mut values: Vec<f64>) -> String {
    values.sort_by(f64::total_cmp);
    let at = |share| percentile(&values, share);
    format!("median {:.1}, p75 {:.1}, p90 {:.1}, p95 {:.1}, p99 {:.1}", at(0.5), at(0.75), at(0.9), at(0.95), at(0.99))
}
