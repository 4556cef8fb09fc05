//! What a music file itself records of its pages: breaks, distances, widths, in millimetres, bar by bar.
//!
//! This is the file's word as read, gaps and all; the casting off turns it into a [`Layout`](super::Layout).

use crate::geometry::Margins;
use crate::place::StaffId;
use crate::units::Mm;

/// All that the files record, over all movements.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    /// One entry a movement: what holds until a bar says otherwise.
    pub defaults: Vec<BarRecord>,
    /// One entry a bar of the whole work.
    pub bars: Vec<BarRecord>,
    /// Height of an unscaled five-line staff in each movement (MusicXML scaling); `None` when not recorded.
    pub staff_heights: Vec<Option<Mm>>,
}

/// What one bar records, or the defaults of a movement; everything is optional.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BarRecord {
    /// `Some(false)`: the file says "no break here".
    pub new_system: Option<bool>,
    pub new_page: Option<bool>,
    /// Printed number of the page that begins here.
    pub page_number: Option<String>,
    pub page: PageRecord,
    pub system: SystemRecord,
    /// Staves that this bar says something about.
    pub staves: Vec<(StaffId, StaffRecord)>,
    /// From left to right barline.
    pub width: Option<Mm>,
    /// Bar numbers: "system" (each system's start), "measure" (every bar), "none".
    pub bar_numbering: Option<String>,
}

/// Page size and margins of odd (right-hand) and even (left-hand) pages.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PageRecord {
    /// Width, height.
    pub size: Option<(Mm, Mm)>,
    pub odd: Option<Margins>,
    pub even: Option<Margins>,
}

/// Where a system stands.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SystemRecord {
    /// Indents from the page's margins.
    pub left: Option<Mm>,
    pub right: Option<Mm>,
    /// From the bottom line of the last staff above to the top line of this system.
    pub distance: Option<Mm>,
    /// From the page's top margin to the top line of the page's first system.
    pub top_distance: Option<Mm>,
    /// Divider marks between systems.
    pub dividers: Option<bool>,
}

/// One staff from here on.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct StaffRecord {
    /// From the bottom line of the staff above to the top line of this one.
    pub distance: Option<Mm>,
    /// `Some(false)`: hidden.
    pub shown: Option<bool>,
    pub lines: Option<u8>,
    /// Size against the document's staff height: 0.7 for a staff of 70 %.
    pub scale: Option<f64>,
    /// An ossia, a cue staff (MusicXML staff-type).
    pub role: Option<super::StaffRole>,
}
