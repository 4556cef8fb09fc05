//! Boxes on paper.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::Mm;

/// A box on a page: `left <= right`, `top <= bottom`, from the page's top left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Rect {
    pub left: Mm,
    pub top: Mm,
    pub right: Mm,
    pub bottom: Mm,
}

impl Rect {
    #[must_use]
    pub fn new(left: Mm, top: Mm, right: Mm, bottom: Mm) -> Rect {
        Rect { left, top, right, bottom }
    }

    #[must_use]
    pub fn width(&self) -> Mm {
        self.right - self.left
    }

    #[must_use]
    pub fn height(&self) -> Mm {
        self.bottom - self.top
    }

    /// The smallest box around both.
    #[must_use]
    pub fn union(&self, other: &Rect) -> Rect {
        Rect {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// Whether the two share an area (touching edges do not count).
    #[must_use]
    pub fn overlaps(&self, other: &Rect) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.bottom && other.top < self.bottom
    }

    /// Every edge moved outwards by `by`.
    #[must_use]
    pub fn grown(&self, by: Mm) -> Rect {
        Rect { left: self.left - by, top: self.top - by, right: self.right + by, bottom: self.bottom + by }
    }

    /// Every edge rounded to a thousandth of a millimetre.
    #[must_use]
    pub fn rounded(&self) -> Rect {
        Rect {
            left: self.left.rounded(),
            top: self.top.rounded(),
            right: self.right.rounded(),
            bottom: self.bottom.rounded(),
        }
    }
}

/// Distances from the four page edges.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Margins {
    pub left: Mm,
    pub right: Mm,
    pub top: Mm,
    pub bottom: Mm,
}
