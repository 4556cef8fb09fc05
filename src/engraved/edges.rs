//! How far the ink of a page reaches.

use super::ink::Drawn;
use crate::geometry::Rect;
use crate::units::Mm;

/// The box around everything drawn, `None` of an empty page. What lies wholly off the page is not seen.
pub(super) fn around(drawn: &Drawn) -> Option<Rect> {
    let (width, height) = drawn.size;
    let level = drawn.horizontals.iter().map(|line| Rect::new(Mm(line.from), Mm(line.at), Mm(line.to), Mm(line.at)));
    let upright = drawn.verticals.iter().map(|line| Rect::new(Mm(line.at), Mm(line.from), Mm(line.at), Mm(line.to)));
    let glyphs = drawn.glyphs.iter().map(|glyph| glyph.rect).filter(|rect| rect.width() > Mm::ZERO);
    let seen = |rect: &Rect| rect.right > Mm::ZERO && rect.bottom > Mm::ZERO && rect.left < width && rect.top < height;
    let all = level.chain(upright).chain(glyphs).chain(drawn.shapes.iter().copied());
    all.filter(seen).reduce(|all, own| all.union(&own))
}
