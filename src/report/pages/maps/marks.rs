//! The marks of a drawn opening: where each stands, the box around what it marks, the leader between them.

use super::pens;
use super::plate::{Plate, edges};
use super::room::{MARK, Room, Seat};
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
const AROUND: Mm = Mm(0.25);
/// A box smaller than this cannot be seen.
const LEAST: Mm = Mm(1.2);
/// A box higher than this holds several staves, between which other marks may sit.
const LARGE: Mm = Mm(14.0);

/// Seats the marks of all spots that lie on drawn pages, in their order.
#[must_use]
pub fn seat(layout: &Layout, plan: &Plan, plates: &[Plate<'_>], spots: &[Spot], also_taken: &[Rect]) -> Vec<Marked> {
    let mut marked: Vec<Marked> = spots
        .iter()
        .filter(|spot| plan.view(spot.page).is_some())
        .map(|spot| {
            let outline = spot.rect.zip(plan.view(spot.page)).map(|(rect, view)| outline(&view.rect(&rect)));
            Marked { outline, ..Marked::unseated(*spot) }
        })
        .collect();
    let mut taken: Vec<Rect> = plates.iter().flat_map(Plate::taken).collect();
    taken.extend(marked.iter().filter_map(|marked| marked.outline).flat_map(|outline| edges(&outline)));
    taken.extend(also_taken);
    let mut room = Room::new(plan.room, &taken);
    marked
        .iter()
        .filter_map(|marked| marked.outline)
        .filter(|outline| outline.height() < LARGE)
        .for_each(|o| room.own(&o));
    for mark in &mut marked {
        let Some(view) = plan.view(mark.spot.page) else { continue };
        let side = layout.pages.get(mark.spot.page.at()).map_or(Side::Recto, |page| page.side);
        let target = mark.outline.unwrap_or(corner(view, side));
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

/// The paper's outer top corner: a mark there is about the page as a whole.
fn corner(view: &View, side: Side) -> Rect {
    let paper = view.paper;
    let x = if side == Side::Verso { paper.left + MARK * 0.6 } else { paper.right - MARK * 0.6 };
    Rect::new(x - MARK * 0.5, paper.top - MARK * 0.5, x + MARK * 0.5, paper.top - Mm(0.6))
}
