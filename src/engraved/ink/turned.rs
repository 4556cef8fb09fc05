//! Sets a page upright that lies on its side.

use super::{Drawn, Glyph, Line};
use crate::geometry::Rect;
use crate::layout::Lying;
use crate::units::Mm;

impl Drawn {
    /// Which way its letters and signs run, where most run up or down.
    pub fn lies(&self) -> Option<Lying> {
        let (mut down, mut up) = (0_usize, 0_usize);
        for glyph in &self.glyphs {
            let (dx, dy) = (glyph.to.0 - glyph.from.0, glyph.to.1 - glyph.from.1);
            if dy.abs() > dx.abs() {
                *(if dy > 0.0 { &mut down } else { &mut up }) += 1;
            }
        }
        let most = down.max(up);
        (most * 2 > self.glyphs.len()).then_some(if down > up { Lying::Down } else { Lying::Up })
    }

    /// The same page turned by a quarter, so that it reads from left to right.
    pub fn upright(&self, lying: Lying) -> Drawn {
        let (width, height) = self.size;
        let point = |(x, y): (f64, f64)| match lying {
            Lying::Down => (y, width.0 - x),
            Lying::Up => (height.0 - y, x),
        };
        let rect = |own: &Rect| {
            let ((x, y), (to_x, to_y)) = (point((own.left.0, own.top.0)), point((own.right.0, own.bottom.0)));
            Rect::new(Mm(x.min(to_x)), Mm(y.min(to_y)), Mm(x.max(to_x)), Mm(y.max(to_y)))
        };
        // Upright lines become level and the other way round; which end comes first may change.
        let level = |own: &Line| {
            let ((from, at), (to, _)) = (point((own.at, own.from)), point((own.at, own.to)));
            Line { at, from: from.min(to), to: from.max(to), thick: own.thick }
        };
        let standing = |own: &Line| {
            let ((at, from), (_, to)) = (point((own.from, own.at)), point((own.to, own.at)));
            Line { at, from: from.min(to), to: from.max(to), thick: own.thick }
        };
        let glyph = |own: &Glyph| Glyph { rect: rect(&own.rect), from: point(own.from), to: point(own.to), ..*own };
        Drawn {
            size: (height, width),
            horizontals: self.verticals.iter().map(level).collect(),
            verticals: self.horizontals.iter().map(standing).collect(),
            glyphs: self.glyphs.iter().map(glyph).collect(),
            shapes: self.shapes.iter().map(rect).collect(),
            has_picture: self.has_picture,
        }
    }
}
