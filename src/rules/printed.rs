//! What only printed pages show: type, lines, fonts, and bars that are not there.

mod bars_not_printed;
mod font_not_embedded;
mod page_number_missing;
mod staff_lines_heavy;
mod text_too_small;

pub(super) use bars_not_printed::BarsNotPrinted;
pub(super) use font_not_embedded::FontNotEmbedded;
pub(super) use page_number_missing::PageNumberMissing;
pub(super) use staff_lines_heavy::StaffLinesHeavy;
pub(super) use text_too_small::TextTooSmall;

use super::Case;
use crate::layout::{Page, Seen};
use crate::place::PageIdx;

/// What they need.
const PRINTED: &str = "printed pages: the PDF behind --pages";

impl<'a> Case<'a> {
    /// Pages of music that were looked at.
    fn seen_pages(&self) -> impl Iterator<Item = (PageIdx, &'a Page, &'a Seen)> + use<'a> {
        self.music_pages().filter_map(|(at, page)| Some((at, page, page.seen.as_ref()?)))
    }
}
