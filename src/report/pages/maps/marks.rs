//! The marks of a drawn opening: where each stands, the box around what it marks, the leader between them.

use super::pens;
use super::plate::{Plate, edges};
use super::room::{CLEAR, MARK, Room, Seat};
use super::sheet::Plan;
use super::spots::Spot;
use super::view::View;
use crate::geometry::Rect;
use crate::layout::{Layout, Side};
use crate::report::pages::mark;
use crate::report::pdf::{Ink, Paint};
use crate::units::Mm;

/// A spot on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Marked {
    pub spot: Spot,
    /// The box around what is marked; `None` for a page as a whole.
    pub outline: Option<Rect>,
    /// `None` when the sheet has no room left for its mark.
    pub seat: Option<Seat>,
}

impl Marked {
    /// A spot that has no place on a sheet yet.
    #[must_use]
    pub fn unseated(spot: Spot) -> Marked {
        Marked { spot, outline: None, seat: None }
    }
}

/// White between what is marked and the box around it.
const AROUND: Mm = Mm(0.3);
/// A box smaller than this cannot be seen.
const LEAST: Mm = Mm(1.2);
/// A box higher than this holds several staves, between which other marks may sit.
const LARGE: Mm = Mm(14.0);

/// Seats the marks of all spots that lie on drawn pages, in their order. `also_taken` is closed to marks as staves are.
#[must_use]
pub fn seat(layout: &Layout, plan: &Plan, plates: &[Plate<'_>], spots: &[Spot], also_taken: &[Rect]) -> Vec<Marked> {
    let on_page = |plate: &Plate<'_>| {
        let side = layout.pages.get(plate.index().at()).map_or(Side::Recto, |page| page.side);
        let here: Vec<Spot> = spots.iter().filter(|spot| spot.page == plate.index()).copied().collect();
        seat_on(plate, side, plan.room_of(side), here, also_taken)
    };
    plates.iter().flat_map(on_page).collect()
}

fn seat_on(plate: &Plate<'_>, side: Side, area: Rect, spots: Vec<Spot>, also_taken: &[Rect]) -> Vec<Marked> {
    let view = plate.view();
    let outlined = |spot: Spot| {
        let rect = spot.rect.and_then(|rect| on_paper(&view.rect(&rect), &view.paper));
        Marked { outline: rect.map(|rect| outline(&rect)), ..Marked::unseated(spot) }
    };
    let mut marked: Vec<Marked> = spots.into_iter().map(outlined).collect();
    let outlines: Vec<Rect> = marked.iter().filter_map(|marked| marked.outline).collect();
    let mut taken = plate.taken();
    taken.extend(outlines.iter().flat_map(edges));
    taken.extend(also_taken);
    let mut room = Room::new(area, &taken);
    plate.words().for_each(|words| room.keep_legible(&words));
    outlines.iter().filter(|outline| outline.height() < LARGE).for_each(|outline| room.own(outline));
    let whole = marked.iter().filter(|marked| marked.outline.is_none()).count();
    let mut before = 0;
    for mark in &mut marked {
        let target = mark.outline.unwrap_or_else(|| corner(view, side, before, whole));
        before += usize::from(mark.outline.is_none());
        mark.seat = room.seat(&target);
    }
    marked
}

/// Boxes first, then leaders, then marks, so that nothing runs over a mark.
pub fn draw(ink: &mut Ink<'_>, marked: &[Marked]) {
    let mut outlines: Vec<Rect> = Vec::new();
    for outline in marked.iter().filter_map(|marked| marked.outline) {
        if !outlines.contains(&outline) {
            ink.rect(outline, &Paint::stroke(pens::outline()));
            outlines.push(outline);
        }
    }
    let seats = || marked.iter().filter_map(|marked| Some((marked.spot, marked.seat?)));
    for (from, to) in seats().filter_map(|(_, seat)| seat.leader) {
        ink.line(from, to, &pens::leader());
    }
    for (spot, seat) in seats() {
        mark::numbered(ink, seat.centre(), MARK, spot.weight, spot.number);
    }
}

/// What of a place the page holds; `None` when it lies beyond the paper's foot.
fn on_paper(rect: &Rect, paper: &Rect) -> Option<Rect> {
    (rect.top < paper.bottom).then(|| Rect { bottom: rect.bottom.min(paper.bottom), ..*rect })
}

/// The box around a place, a little larger than it and never too small to be seen.
fn outline(rect: &Rect) -> Rect {
    let grow = |from: Mm, to: Mm| {
        let more = ((LEAST - (to - from)) / 2.0).max(AROUND);
        (from - more, to + more)
    };
    let (left, right) = grow(rect.left, rect.right);
    let (top, bottom) = grow(rect.top, rect.bottom);
    Rect::new(left, top, right, bottom)
}

/// Where a mark of a whole page belongs: above the paper's outer top corner, in order from left to right.
fn corner(view: &View, side: Side, before: usize, all: usize) -> Rect {
    let (paper, pitch) = (view.paper, MARK + CLEAR * 3.0);
    let left = match side {
        Side::Verso => paper.left + pitch * before as f64,
        Side::Recto => paper.right - pitch * all.saturating_sub(before) as f64,
    };
    let bottom = paper.top - CLEAR * 2.0;
    Rect::new(left, bottom - MARK, left + MARK, bottom)
}
