//! What stands outside the systems: page number, running head, title, and dividers.

use rastrum::layout::{Page, System};
use rastrum::score::{Credit, Score};
use rastrum::units::Mm;

use super::faces::Face;
use super::paint::{Paint, Side, upright};

/// The line that page numbers and titles of a part stand on.
const HEAD_LINE: Mm = Mm(13.0);

/// The texts that the score has for this page, but those of the kinds that are left out.
pub fn texts(paint: &mut Paint, score: &Score, page: &Page, left_out: &[&str]) {
    // Pages count on as their numbers do.
    let number: u32 = page.label.parse().unwrap_or(0);
    let here = |credit: &&Credit| credit.page == number;
    for credit in score.credits.iter().filter(here) {
        let is_left_out = credit.kind.as_deref().is_some_and(|kind| left_out.contains(&kind));
        let (Some(x), Some(y), false) = (credit.x, credit.y, is_left_out) else { continue };
        let of = upright(Face::Regular, credit.points.unwrap_or(10.0));
        let side = match credit.justify.as_deref() {
            Some("center") => Side::Middle,
            Some("right") => Side::Right,
            _ => Side::Left,
        };
        // Its place is the top of its letters.
        paint.text(of, (x, y + of.size * 0.75), side, &credit.text);
    }
}

/// A part's page: its number, and on the first one whose it is. No page says so after that.
pub fn of_part(paint: &mut Paint, score: &Score, page: &Page, is_first: bool) {
    let (width, _) = page.size.value;
    let margins = page.margins.value;
    let (x, side) = if page.is_recto() { (width - margins.right, Side::Right) } else { (margins.left, Side::Left) };
    paint.text(upright(Face::Regular, 11.0), (x, HEAD_LINE), side, &page.label);
    if !is_first {
        return;
    }
    let movement = score.movements.first().and_then(|movement| movement.title.as_deref()).unwrap_or_default();
    let name = score.parts.first().map(|part| part.name.as_str()).unwrap_or_default();
    let work = score.title.as_deref().unwrap_or_default();
    let middle = width / 2.0;
    paint.text(upright(Face::Bold, 18.0), (middle, margins.top + Mm(8.0)), Side::Middle, work);
    paint.text(upright(Face::Regular, 12.0), (middle, margins.top + Mm(15.0)), Side::Middle, movement);
    paint.text(upright(Face::Bold, 12.0), (margins.left, margins.top + Mm(8.0)), Side::Left, name);
}

/// Two short thick strokes at each end between two systems.
pub fn dividers(paint: &mut Paint, upper: &System, lower: &System) {
    let middle = (upper.rect.bottom + lower.rect.top) / 2.0;
    let (long, rise, thick, apart) = (Mm(5.5), Mm(2.2), Mm(1.0), Mm(1.9));
    // At the left in the room that names have; at the right inside the staves' end.
    for left in [upper.rect.left - Mm(9.0), upper.rect.right - long] {
        for y in [middle - apart / 2.0, middle + apart / 2.0] {
            let (low, high, right) = (y + rise / 2.0, y - rise / 2.0, left + long);
            paint.filled(&[(left, low), (right, high), (right, high + thick), (left, low + thick)]);
        }
    }
}
