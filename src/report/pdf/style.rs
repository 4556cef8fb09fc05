//! How lines, areas and type look.

use super::size::{Grey, Points};
use crate::units::Mm;

/// The faces of the report's type.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    #[default]
    Regular,
    Bold,
    Italic,
}

/// Face, size and shade of a run of text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TextStyle {
    pub face: Face,
    pub size: Points,
    pub grey: Grey,
}

impl TextStyle {
    /// Black text.
    #[must_use]
    pub const fn new(face: Face, size: Points) -> TextStyle {
        TextStyle { face, size, grey: Grey::BLACK }
    }

    #[must_use]
    pub const fn in_grey(self, grey: Grey) -> TextStyle {
        TextStyle { grey, ..self }
    }

    #[must_use]
    pub const fn in_face(self, face: Face) -> TextStyle {
        TextStyle { face, ..self }
    }
}

/// Which point of a text its place is: where its baseline begins, its middle or its end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Align {
    #[default]
    Left,
    Centre,
    Right,
}

impl Align {
    /// How far left of its place a text this wide begins; in a box, how much of the free room stands before it.
    pub(super) fn share(self, width: Mm) -> Mm {
        match self {
            Align::Left => Mm::ZERO,
            Align::Centre => width / 2.0,
            Align::Right => width,
        }
    }
}

/// The way text runs that is turned by a right angle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// Read from bottom to top, letters lying on their backs.
    Up,
    /// Read from top to bottom.
    Down,
}

/// Lengths of the marks of a dashed line and of the gaps between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dash {
    pub mark: Mm,
    pub gap: Mm,
}

/// How a line ends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Cap {
    #[default]
    Butt,
    Round,
}

/// The look of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    pub width: Mm,
    pub grey: Grey,
    pub dash: Option<Dash>,
    pub cap: Cap,
}

impl Stroke {
    /// A plain black line with butt ends.
    #[must_use]
    pub const fn new(width: Mm) -> Stroke {
        Stroke { width, grey: Grey::BLACK, dash: None, cap: Cap::Butt }
    }

    #[must_use]
    pub const fn in_grey(self, grey: Grey) -> Stroke {
        Stroke { grey, ..self }
    }

    #[must_use]
    pub const fn dashed(self, mark: Mm, gap: Mm) -> Stroke {
        Stroke { dash: Some(Dash { mark, gap }), ..self }
    }

    #[must_use]
    pub const fn with_cap(self, cap: Cap) -> Stroke {
        Stroke { cap, ..self }
    }
}

/// How an area is painted: filled, outlined or both. Neither paints nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Paint {
    pub fill: Option<Grey>,
    pub stroke: Option<Stroke>,
}

impl Paint {
    #[must_use]
    pub const fn fill(grey: Grey) -> Paint {
        Paint { fill: Some(grey), stroke: None }
    }

    #[must_use]
    pub const fn stroke(stroke: Stroke) -> Paint {
        Paint { fill: None, stroke: Some(stroke) }
    }

    #[must_use]
    pub const fn both(fill: Grey, stroke: Stroke) -> Paint {
        Paint { fill: Some(fill), stroke: Some(stroke) }
    }
}
