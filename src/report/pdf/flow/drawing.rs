//! Pictures in the flow.

use std::fmt;

use super::super::ink::Ink;
use super::super::structure::Elem;
use super::super::tag::Tag;
use super::Flow;
use crate::geometry::Rect;
use crate::units::Mm;

/// A picture as wide as the region, all on one page.
pub struct Drawing {
    pub height: Mm,
    /// What the picture shows, in words, for those who hear the document.
    pub alt: String,
    /// Room before and after, as for paragraphs.
    pub above: Mm,
    pub below: Mm,
    draw: Box<Draw>,
}

type Draw = dyn Fn(&mut Ink<'_>, Rect);

impl Drawing {
    /// `draw` is given the box to fill.
    #[must_use]
    pub fn new(height: Mm, alt: impl Into<String>, draw: impl Fn(&mut Ink<'_>, Rect) + 'static) -> Drawing {
        Drawing { height, alt: alt.into(), above: Mm::ZERO, below: Mm::ZERO, draw: Box::new(draw) }
    }

    #[must_use]
    pub fn spaced(self, above: Mm, below: Mm) -> Drawing {
        Drawing { above, below, ..self }
    }

    pub(super) fn set(&self, flow: &mut Flow<'_>, parent: Elem) {
        let region = flow.take(self.height);
        let figure = flow.doc.element(parent, Tag::Figure { alt: self.alt.clone(), area: region.area });
        flow.doc.page(region.page).tagged(figure, |ink| (self.draw)(ink, region.area));
    }
}

impl fmt::Debug for Drawing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Drawing").field("height", &self.height).field("alt", &self.alt).finish_non_exhaustive()
    }
}
