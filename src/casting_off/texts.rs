//! Titles, page numbers and running heads on their pages.

use std::collections::BTreeMap;

use super::sheets::Sheets;
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

/// Sets the score's credits on its pages.
pub(super) fn place(score: &Score, sheets: &Sheets, pages: &mut [Page]) {
    let by_page: BTreeMap<(u16, u32), usize> = sheets.begun().iter().copied().zip(0..).collect();
    for credit in &score.credits {
        let at = by_page.get(&(credit.input, credit.page.max(1))).copied();
        let Some(page) = at.and_then(|at| pages.get_mut(at)) else { continue };
        page.texts.push(text(credit));
    }
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
