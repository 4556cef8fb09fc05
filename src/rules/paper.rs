//! Sheets of paper and their margins.

mod landscape_page;
mod music_in_margin;
mod narrow_binding_margin;
mod narrow_margin;
mod page_sizes_differ;
mod printed_smaller;
mod unusual_page_size;

pub(super) use landscape_page::LandscapePage;
pub(super) use music_in_margin::MusicInMargin;
pub(super) use narrow_binding_margin::NarrowBindingMargin;
pub(super) use narrow_margin::NarrowMargin;
pub(super) use page_sizes_differ::PageSizesDiffer;
pub(super) use printed_smaller::PrintedSmaller;
pub(super) use unusual_page_size::UnusualPageSize;
