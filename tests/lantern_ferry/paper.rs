//! The paper and the house's measures. Where the music stands they are given in staff spaces, ten tenths each.

use rastrum::units::{Mm, Spaces};

/// Height of a five-line staff.
pub const STAFF_MM: Mm = Mm(4.2);
/// The same in the second draft of the first movement.
pub const SECOND_STAFF_MM: Mm = Mm(4.5);
pub const STAFF: Spaces = Spaces(4.0);

/// 10 x 13 inches, a usual score paper.
const PAGE_WIDTH: Mm = Mm(254.0);
const PAGE_HEIGHT: Mm = Mm(330.2);

pub const MARGIN_INNER: Spaces = Spaces(20.0);
pub const MARGIN_OUTER: Spaces = Spaces(16.0);
pub const MARGIN_TOP: Spaces = Spaces(15.0);
pub const MARGIN_BOTTOM: Spaces = Spaces(15.0);

/// Room left of the staves for full names and for short ones.
pub const INDENT_FULL: Spaces = Spaces(33.0);
pub const INDENT_SHORT: Spaces = Spaces(13.0);

/// Left end of a system: clef and key signature.
pub const SYSTEM_START: Spaces = Spaces(5.5);

/// In the spaces of staves of this height, as all below.
pub fn page_width(staff: Mm) -> Spaces {
    rounded(PAGE_WIDTH.in_spaces(staff))
}

pub fn page_height(staff: Mm) -> Spaces {
    rounded(PAGE_HEIGHT.in_spaces(staff))
}

/// From the top margin to the bottom margin.
pub fn usable_height(staff: Mm) -> Spaces {
    page_height(staff) - MARGIN_TOP - MARGIN_BOTTOM
}

/// Length of the lines between the margins, indent included.
pub fn line_width(staff: Mm) -> Spaces {
    rounded(page_width(staff) - MARGIN_INNER - MARGIN_OUTER)
}

/// Whether a page is a left-hand one.
pub fn is_left(page: usize) -> bool {
    page.is_multiple_of(2)
}

pub fn left_margin(page: usize) -> Spaces {
    if is_left(page) { MARGIN_OUTER } else { MARGIN_INNER }
}

pub fn right_margin(page: usize) -> Spaces {
    if is_left(page) { MARGIN_INNER } else { MARGIN_OUTER }
}

/// To a hundredth of a tenth, the finest that is written.
pub fn rounded(length: Spaces) -> Spaces {
    Spaces((length.0 * 1000.0).round() / 1000.0)
}

/// Down to a whole tenth.
pub fn whole_tenths(length: Spaces) -> Spaces {
    Spaces((length.0 * 10.0 + 1e-6).floor() / 10.0)
}
