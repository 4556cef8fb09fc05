//! Titles, page numbers and running heads on their pages.

use std::collections::BTreeMap;

use super::sheets::{PAGE_NUMBER, Sheets};
use crate::geometry::Rect;
use crate::layout::{Origin, Page, PageText};
use crate::score::{Credit, Score};
use crate::units::Mm;

/// A letter's width over the size of its type, on average (from memory).
const LETTER_WIDTH: f64 = 0.5;
/// From line to line over the size of the type (common practice).
const LINE_HEIGHT: f64 = 1.2;
/// Where the file does not say (MusicXML leaves it to the program; 12 points is common practice).
const USUAL_POINTS: f64 = 12.0;
/// Blank pages that a file may put before its first page of music.
const MOST_BLANKS: u32 = 3;

/// Sets the score's credits on its pages.
pub(super) fn place(score: &Score, sheets: &Sheets, pages: &mut [Page]) {
    let by_page: BTreeMap<(u16, u32), usize> = sheets.begun().iter().copied().zip(0..).collect();
    let mut blanks: BTreeMap<u16, u32> = BTreeMap::new();
    for credit in &score.credits {
        let input = credit.input;
        let skipped = *blanks.entry(input).or_insert_with(|| blank_pages(score, input, &by_page, pages));
        let within = credit.page.max(1).checked_sub(skipped);
        let Some(page) = within.and_then(|within| by_page.get(&(input, within))).and_then(|at| pages.get_mut(*at))
        else {
            continue;
        };
        page.texts.push(text(credit));
    }
}

/// How many pages a file counts before its first page of music: as many as make most printed page numbers agree.
fn blank_pages(score: &Score, input: u16, by_page: &BTreeMap<(u16, u32), usize>, pages: &[Page]) -> u32 {
    let agree = |skipped: u32| {
        let numbers = score.credits.iter().filter(|c| c.input == input && c.kind.as_deref() == Some(PAGE_NUMBER));
        let agreeing = numbers.filter(|credit| {
            let at = credit.page.checked_sub(skipped).and_then(|within| by_page.get(&(input, within)));
            at.and_then(|at| pages.get(*at)).is_some_and(|page| page.label == credit.text.trim())
        });
        agreeing.count()
    };
    (0..=MOST_BLANKS).rev().max_by_key(|skipped| agree(*skipped)).unwrap_or(0)
}

fn text(credit: &Credit) -> PageText {
    let rect = credit.rect.or_else(|| estimated_box(credit));
    PageText { text: credit.text.clone(), kind: credit.kind.clone(), rect, placed: Origin::Estimated }
}

/// Where the text begins is recorded, how far it runs is estimated from its letters and the size of its type.
fn estimated_box(credit: &Credit) -> Option<Rect> {
    let (x, y) = (credit.x?, credit.y?);
    let type_size = Mm::INCH * (credit.points.unwrap_or(USUAL_POINTS) / 72.0);
    let letters = credit.text.lines().map(|line| line.chars().count()).max().unwrap_or(0);
    let width = type_size * (LETTER_WIDTH * letters as f64);
    let height = type_size * (LINE_HEIGHT * credit.text.lines().count().max(1) as f64);
    let left = match credit.justify.as_deref() {
        Some("center") => x - width / 2.0,
        Some("right") => x - width,
        _ => x,
    };
    Some(Rect::new(left, y, left + width, y + height).rounded())
}
