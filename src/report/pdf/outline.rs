//! Places to jump to, and the bookmarks shown beside the pages.

use super::document::PageId;
use crate::units::Mm;

/// Where a link or a bookmark leads.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// A place on a page, `y` below its top edge.
    Page(PageId, Mm),
    /// A named place; it may be named later, but before the document is finished.
    Anchor(String),
}

impl Target {
    #[must_use]
    pub fn anchor(name: impl Into<String>) -> Target {
        Target::Anchor(name.into())
    }
}

/// A bookmark with the bookmarks below it, in the order they are shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Bookmark {
    pub title: String,
    pub target: Target,
    pub children: Vec<Bookmark>,
    pub shown: Shown,
}

/// Whether the bookmarks below a bookmark are shown when the document is opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    Open,
    Folded,
}

impl Bookmark {
    /// A bookmark with nothing below it yet, unfolded.
    #[must_use]
    pub fn new(title: impl Into<String>, target: Target) -> Bookmark {
        Bookmark { title: title.into(), target, children: Vec::new(), shown: Shown::Open }
    }

    #[must_use]
    pub fn with(mut self, child: Bookmark) -> Bookmark {
        self.children.push(child);
        self
    }

    #[must_use]
    pub fn folded(mut self) -> Bookmark {
        self.shown = Shown::Folded;
        self
    }
}
