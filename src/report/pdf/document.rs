//! A document under construction.

use std::collections::{BTreeMap, BTreeSet};

use super::canvas::Canvas;
use super::error::PdfError;
use super::fonts::FontId;
use super::ink::Pens;
use super::outline::{Bookmark, Target};
use super::size::PageSize;
use super::structure::{Elem, Structure};
use super::tag::Tag;
use super::write;
use crate::geometry::Rect;
use crate::units::Mm;

/// What a document says of itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meta {
    /// Shown in the viewer's title bar.
    pub title: String,
    /// The language of the text, as in BCP 47: "en-GB".
    pub language: String,
    /// One sentence on what the document is; empty when there is none.
    pub subject: String,
}

impl Meta {
    #[must_use]
    pub fn new(title: impl Into<String>, language: impl Into<String>) -> Meta {
        Meta { title: title.into(), language: language.into(), subject: String::new() }
    }

    #[must_use]
    pub fn with_subject(self, subject: impl Into<String>) -> Meta {
        Meta { subject: subject.into(), ..self }
    }
}

/// A page of one document, in the order the pages were added.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PageId(pub(super) usize);

/// Pages, structure, links and bookmarks, until [`finish`](Document::finish) makes a file of them.
#[derive(Debug)]
pub struct Document {
    pub(super) meta: Meta,
    pub(super) pages: Vec<Page>,
    pub(super) structure: Structure,
    pub(super) anchors: BTreeMap<String, (PageId, Mm)>,
    pub(super) bookmarks: Vec<Bookmark>,
    pub(super) used: BTreeMap<FontId, BTreeSet<char>>,
    missing: BTreeSet<char>,
    fault: Option<PdfError>,
}

#[derive(Debug)]
pub(super) struct Page {
    pub(super) size: PageSize,
    pub(super) label: String,
    pub(super) ops: Vec<printpdf::Op>,
    pub(super) pens: Pens,
    /// The element of each marked-content sequence, in the order of their numbers.
    pub(super) contents: Vec<Elem>,
    pub(super) links: Vec<Link>,
}

#[derive(Debug)]
pub(super) struct Link {
    pub(super) elem: Elem,
    pub(super) area: Rect,
    pub(super) target: Target,
    pub(super) says: String,
}

impl Document {
    #[must_use]
    pub fn new(meta: Meta) -> Document {
        Document {
            meta,
            pages: Vec::new(),
            structure: Structure::new(),
            anchors: BTreeMap::new(),
            bookmarks: Vec::new(),
            used: BTreeMap::new(),
            missing: BTreeSet::new(),
            fault: None,
        }
    }

    /// A new last page. `label` is what the viewer shows as its number.
    pub fn add_page(&mut self, size: PageSize, label: impl Into<String>) -> PageId {
        let page = PageId(self.pages.len());
        self.pages.push(Page {
            size,
            label: label.into(),
            ops: Vec::new(),
            pens: Pens::default(),
            contents: Vec::new(),
            links: Vec::new(),
        });
        page
    }

    /// The page, to draw on. A page may be drawn on in several goes, in any order of pages.
    pub fn page(&mut self, page: PageId) -> Canvas<'_> {
        Canvas::new(self, page)
    }

    /// Pages so far.
    #[must_use]
    pub fn page_count(&self) -> usize {
        self.pages.len()
    }

    /// The element of the whole document, above all others.
    #[must_use]
    pub fn root(&self) -> Elem {
        Structure::ROOT
    }

    /// A new last child of `parent`. An element that never gets marks, itself or below it, is left out of the file.
    pub fn element(&mut self, parent: Elem, tag: Tag) -> Elem {
        self.structure.add(parent, tag).unwrap_or_else(|| {
            self.fail(PdfError::ForeignElement);
            Structure::ROOT
        })
    }

    /// Names the place `y` below the top edge of a page, for links and bookmarks, made before or after.
    pub fn anchor(&mut self, name: impl Into<String>, page: PageId, y: Mm) {
        let name = name.into();
        if self.anchors.insert(name.clone(), (page, y)).is_some() {
            self.fail(PdfError::AnchorTwice { name });
        }
    }

    /// Where a name was given so far: to print the page's label in a table of contents that is drawn last.
    #[must_use]
    pub fn place_of(&self, name: &str) -> Option<(PageId, Mm)> {
        self.anchors.get(name).copied()
    }

    /// What the viewer shows as the page's number; `None` when the page is of another document.
    #[must_use]
    pub fn label(&self, page: PageId) -> Option<&str> {
        self.pages.get(page.0).map(|page| page.label.as_str())
    }

    /// A new last bookmark, with those below it.
    pub fn bookmark(&mut self, bookmark: Bookmark) {
        self.bookmarks.push(bookmark);
    }

    /// Characters that none of the fonts has, so far; a question mark stands for each on the page.
    #[must_use]
    pub fn missing_characters(&self) -> &BTreeSet<char> {
        &self.missing
    }

    /// The file: PDF 1.7, tagged as PDF/UA-1 asks.
    ///
    /// # Errors
    /// The first mistake made while drawing, a link or bookmark that leads nowhere, a document without pages.
    pub fn finish(mut self) -> Result<Vec<u8>, PdfError> {
        match self.fault.take() {
            Some(fault) => Err(fault),
            None => write::write(self),
        }
    }

    pub(super) fn fail(&mut self, fault: PdfError) {
        self.fault.get_or_insert(fault);
    }

    pub(super) fn note_glyph(&mut self, font: FontId, char: char) {
        self.used.entry(font).or_default().insert(char);
    }

    pub(super) fn note_missing(&mut self, char: char) {
        self.missing.insert(char);
    }
}
