//! The paper and the house's measures, in tenths (a tenth of a staff space is one MusicXML tenth here).

/// Height of a five-line staff in millimetres, and what it is in tenths.
pub const STAFF_MM: f64 = 4.2;
pub const STAFF_TENTHS: f64 = 40.0;

/// 10 x 13 inches, a usual score paper.
pub const PAGE_WIDTH_MM: f64 = 254.0;
pub const PAGE_HEIGHT_MM: f64 = 330.2;

pub const MARGIN_INNER: f64 = 200.0;
pub const MARGIN_OUTER: f64 = 160.0;
pub const MARGIN_TOP: f64 = 150.0;
pub const MARGIN_BOTTOM: f64 = 150.0;

/// Room left of the staves for full names and for short ones.
pub const INDENT_FULL: f64 = 330.0;
pub const INDENT_SHORT: f64 = 130.0;

/// Left end of a system: clef and key signature.
pub const SYSTEM_START: f64 = 55.0;

pub fn page_width() -> f64 {
    tenths(PAGE_WIDTH_MM)
}

pub fn page_height() -> f64 {
    tenths(PAGE_HEIGHT_MM)
}

/// Whether a page is a left-hand one.
pub fn is_left(page: usize) -> bool {
    page.is_multiple_of(2)
}

pub fn left_margin(page: usize) -> f64 {
    if is_left(page) { MARGIN_OUTER } else { MARGIN_INNER }
}

pub fn right_margin(page: usize) -> f64 {
    if is_left(page) { MARGIN_INNER } else { MARGIN_OUTER }
}

/// Length of the lines between the margins, indent included.
pub fn line_width() -> f64 {
    hundredths(page_width() - MARGIN_INNER - MARGIN_OUTER)
}

fn tenths(mm: f64) -> f64 {
    hundredths(mm * STAFF_TENTHS / STAFF_MM)
}

pub fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}
