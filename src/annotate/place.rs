//! Where the outlines of a page stand, and the boxes of their numbers: none of these covers another.

use super::Note;
use super::digits;
use crate::geometry::Rect;
use crate::units::Mm;

/// Height of the digits.
pub(super) const DIGIT: Mm = Mm(3.2);
/// White between the strokes of the digits and the edge of their box.
pub(super) const PADDING: Mm = Mm(0.75);
/// White between a place and its outline.
const CLEAR: Mm = Mm(0.6);
/// Thickness of outlines.
const LIGHT: Mm = Mm(0.4);
const HEAVY: Mm = Mm(0.9);
/// From the page's corner to the numbers of notes that are about the whole page.
const CORNER: Mm = Mm(5.0);
/// Between two boxes.
const GAP: Mm = Mm(0.6);
/// Rows of boxes that are tried above and below an outline before the whole page is.
const ROWS: u8 = 6;
/// Boxes of a page that keep clear of each other: more than fit onto A3.
const MOST: usize = 5_000;

/// One note on its page.
pub(super) struct Placed {
    /// The middle of the outline's line; `None` for a note about the whole page.
    pub outline: Option<Rect>,
    /// The outer edge of the number's box.
    pub label: Rect,
    /// Thickness of the outline.
    pub line: Mm,
}

impl Placed {
    /// All that is drawn.
    pub fn whole(&self) -> Rect {
        let outline = self.outline.map(|outline| outline.grown(self.line / 2.0));
        outline.map_or(self.label, |outline| outline.union(&self.label))
    }
}

/// One for each note, on a page of this size (width, height).
pub(super) fn place(notes: &[&Note], size: (Mm, Mm)) -> Vec<Placed> {
    let page = Rect::new(Mm::ZERO, Mm::ZERO, size.0, size.1);
    let mut placed: Vec<Placed> = Vec::new();
    let mut labels: Vec<Rect> = Vec::new();
    for note in notes {
        let line = if note.heavy { HEAVY } else { LIGHT };
        let outline = note.rect.and_then(|rect| outline(&rect, line, &page));
        let edge = outline.map(|outline| outline.grown(line / 2.0));
        let label = label(note.number, edge, &page, &labels);
        labels.push(label);
        placed.push(Placed { outline, label, line });
    }
    placed
}

/// `None` for what does not lie on the page.
fn outline(rect: &Rect, line: Mm, page: &Rect) -> Option<Rect> {
    let finite = [rect.left, rect.top, rect.right, rect.bottom].iter().all(|edge| edge.0.is_finite());
    let is_there = finite && rect.left <= rect.right && rect.top <= rect.bottom && {
        // Lines without height are places, too.
        rect.right >= page.left && rect.left <= page.right && rect.bottom >= page.top && rect.top <= page.bottom
    };
    let within = page.grown(-(line / 2.0));
    let wide = rect.grown(CLEAR + line / 2.0);
    let outline = Rect::new(
        wide.left.max(within.left),
        wide.top.max(within.top),
        wide.right.min(within.right),
        wide.bottom.min(within.bottom),
    );
    (is_there && outline.left < outline.right && outline.top < outline.bottom).then_some(outline)
}

/// Beside the outline where there is room: above, from its left corner to the right, then below, then further off.
fn label(number: usize, outline: Option<Rect>, page: &Rect, taken: &[Rect]) -> Rect {
    let (width, height) = box_size(number);
    let free = |left: Mm, top: Mm, to: Mm| slide(Rect::new(left, top, left + width, top + height), to, page, taken);
    let corner = Rect::new(CORNER, CORNER, CORNER, CORNER);
    let beside = outline.unwrap_or(corner);
    let first = Rect::new(beside.left, beside.top, beside.left + width, beside.top + height);
    if taken.len() >= MOST {
        return inside(first, page);
    }
    let left = inside(first, page).left;
    if outline.is_some() {
        for row in 0..ROWS {
            let away = (height + GAP) * f64::from(row);
            let above = free(left, beside.top - height - away, beside.right);
            if let Some(found) = above.or_else(|| free(left, beside.bottom + away, beside.right)) {
                return found;
            }
        }
    }
    // All over the page, from the place of a note about the whole of it.
    let mut top = CORNER;
    while top + height <= page.bottom {
        if let Some(found) = free(CORNER, top, page.right) {
            return found;
        }
        top += height + GAP;
    }
    inside(first, page)
}

/// The box, or one to its right that begins before `to` and covers no other; all on the page.
fn slide(mut label: Rect, to: Mm, page: &Rect, taken: &[Rect]) -> Option<Rect> {
    let (first, width) = (label.left, label.width());
    if label.top < page.top || label.bottom > page.bottom {
        return None;
    }
    loop {
        if label.right > page.right || (label.left > first && label.left > to) {
            return None;
        }
        let covered = taken.iter().filter(|other| other.overlaps(&label));
        let Some(right) = covered.map(|other| other.right).reduce(Mm::max) else { return Some(label) };
        label.left = right + GAP;
        label.right = label.left + width;
    }
}

/// Moved onto the page.
fn inside(label: Rect, page: &Rect) -> Rect {
    let (width, height) = (label.width(), label.height());
    let left = label.left.min(page.right - width).max(page.left);
    let top = label.top.min(page.bottom - height).max(page.top);
    Rect::new(left, top, left + width, top + height)
}

/// Width, height of a number's box.
fn box_size(number: usize) -> (Mm, Mm) {
    let around = PADDING * 2.0;
    (pen_height() * digits::width(number) + stroke() + around, DIGIT + around)
}

/// From the middle of a digit's highest stroke to that of its lowest.
pub(super) fn pen_height() -> Mm {
    DIGIT / (1.0 + f64::from(digits::STROKE) / 100.0)
}

/// Thickness of a digit's strokes.
pub(super) fn stroke() -> Mm {
    pen_height() * (f64::from(digits::STROKE) / 100.0)
}
