//! Which pages of the score are printed, how each is drawn, and what is wrong with it.

/// One printed page.
#[derive(Clone, Copy, Debug)]
pub struct Leaf {
    /// The page number that it has in the score, printed or not.
    pub label: &'static str,
    pub staff_lines: StaffLines,
    pub fault: Option<Fault>,
}

/// Programs draw the lines of a staff in different ways.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StaffLines {
    Strokes,
    /// Thin filled rectangles.
    Rectangles,
    /// Strokes in a form of their own, which the page puts in place.
    Form,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// A hairpin of the first violins runs on into the right margin.
    HairpinInMargin,
    /// Printed at [`SHRUNK`] of its size.
    Shrunk,
    /// Lies on its side.
    Sideways,
    NoPageNumber,
    /// Nothing stands between its two systems.
    NoDivider,
}

/// Against the size that was set.
pub const SHRUNK: f64 = 0.94;
/// How far into the margin the hairpin runs.
pub const INTO_MARGIN: rastrum::units::Mm = rastrum::units::Mm(6.0);

const fn leaf(label: &'static str, staff_lines: StaffLines, fault: Option<Fault>) -> Leaf {
    Leaf { label, staff_lines, fault }
}

/// The pages of the score.
pub const LEAVES: [Leaf; 6] = [
    leaf("9", StaffLines::Strokes, None),
    leaf("10", StaffLines::Form, Some(Fault::HairpinInMargin)),
    leaf("11", StaffLines::Strokes, Some(Fault::Shrunk)),
    leaf("12", StaffLines::Strokes, Some(Fault::Sideways)),
    leaf("13", StaffLines::Rectangles, Some(Fault::NoPageNumber)),
    leaf("14", StaffLines::Strokes, Some(Fault::NoDivider)),
];

/// A page of a part; what it lacks is a running head, like its neighbours.
pub const PLAIN: Leaf = leaf("", StaffLines::Strokes, None);
