//! A page to draw on: every mark belongs to a structure element or is an artifact.

use std::collections::BTreeMap;

use printpdf::{DictItem, Op};

use super::document::{Document, Link, PageId};
use super::error::PdfError;
use super::ink::Ink;
use super::outline::Target;
use super::size::PageSize;
use super::structure::{Elem, Kid};
use super::tag::Tag;
use crate::geometry::Rect;
use crate::units::Mm;

/// Why marks say nothing to a reader who hears the document (ISO 32000-1, 14.8.2.2).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Artifact {
    /// Rules, frames, backgrounds.
    Layout,
    /// Running heads and what else is repeated at the top of each page.
    Header,
    /// Page numbers and what else is repeated at the foot of each page.
    Footer,
}

/// One page of a [`Document`], borrowed for drawing.
#[derive(Debug)]
pub struct Canvas<'d> {
    doc: &'d mut Document,
    page: PageId,
}

impl<'d> Canvas<'d> {
    pub(super) fn new(doc: &'d mut Document, page: PageId) -> Canvas<'d> {
        Canvas { doc, page }
    }

    /// Nothing when the page is of another document.
    #[must_use]
    pub fn size(&self) -> PageSize {
        self.doc.pages.get(self.page.0).map_or(PageSize { width: Mm::ZERO, height: Mm::ZERO }, |page| page.size)
    }

    #[must_use]
    pub fn id(&self) -> PageId {
        self.page
    }

    /// As [`Document::element`].
    pub fn element(&mut self, parent: Elem, tag: Tag) -> Elem {
        self.doc.element(parent, tag)
    }

    /// As [`Document::anchor`], on this page.
    pub fn anchor(&mut self, name: impl Into<String>, y: Mm) {
        self.doc.anchor(name, self.page, y);
    }

    /// Marks that belong to `elem`, after all that it holds already. An element may be gone on with on other pages.
    pub fn tagged<R>(&mut self, elem: Elem, draw: impl FnOnce(&mut Ink<'_>) -> R) -> R {
        let (Some(name), Some(page)) = (self.role(elem), self.doc.pages.get_mut(self.page.0)) else {
            return self.nowhere(draw);
        };
        let number = page.contents.len();
        page.contents.push(elem);
        self.doc.structure.append(elem, Kid::Content(self.page, number));
        let number = DictItem::Int(i64::try_from(number).unwrap_or(i64::MAX));
        self.marked(name, BTreeMap::from([("MCID".to_owned(), number)]), draw)
    }

    /// Marks that are no part of what the document says.
    pub fn artifact<R>(&mut self, kind: Artifact, draw: impl FnOnce(&mut Ink<'_>) -> R) -> R {
        let name = |text: &str| DictItem::Name(text.as_bytes().to_vec());
        let (kind, subtype) = match kind {
            Artifact::Layout => ("Layout", None),
            Artifact::Header => ("Pagination", Some("Header")),
            Artifact::Footer => ("Pagination", Some("Footer")),
        };
        let mut properties = BTreeMap::from([("Type".to_owned(), name(kind))]);
        properties.extend(subtype.map(|subtype| ("Subtype".to_owned(), name(subtype))));
        self.marked("Artifact", properties, draw)
    }

    /// A link over `area` as a new last child of `parent`, with the marks that show it. `says` is read out in place
    /// of the link: "Flute 1, page 3".
    pub fn link<R>(
        &mut self,
        parent: Elem,
        area: Rect,
        target: &Target,
        says: &str,
        draw: impl FnOnce(&mut Ink<'_>) -> R,
    ) -> R {
        let elem = self.doc.element(parent, Tag::Link);
        let result = self.tagged(elem, draw);
        if let Some(page) = self.doc.pages.get_mut(self.page.0) {
            let number = page.links.len();
            page.links.push(Link { elem, area, target: target.clone(), says: says.to_owned() });
            self.doc.structure.append(elem, Kid::Area(self.page, number));
        }
        result
    }

    fn role(&self, elem: Elem) -> Option<&'static str> {
        Some(self.doc.structure.node(elem)?.tag.as_ref().map_or("Document", Tag::name))
    }

    fn marked<R>(
        &mut self,
        name: &str,
        properties: BTreeMap<String, DictItem>,
        draw: impl FnOnce(&mut Ink<'_>) -> R,
    ) -> R {
        let Some(page) = self.doc.pages.get_mut(self.page.0) else { return self.nowhere(draw) };
        page.ops.push(Op::BeginMarkedContentWithProperties {
            tag: name.to_owned(),
            properties: DictItem::Dict { map: properties },
        });
        let mut ink = Ink::on(page);
        let result = draw(&mut ink);
        let letters = ink.into_letters();
        page.ops.push(Op::EndMarkedContent);
        letters.note_in(self.doc);
        result
    }

    /// Draws on a page that is thrown away, and keeps the mistake for [`Document::finish`].
    fn nowhere<R>(&mut self, draw: impl FnOnce(&mut Ink<'_>) -> R) -> R {
        let known_page = self.page.0 < self.doc.pages.len();
        self.doc.fail(if known_page { PdfError::ForeignElement } else { PdfError::ForeignPage });
        let mut scrap = Document::new(self.doc.meta.clone());
        let page = scrap.add_page(PageSize::A4, "");
        scrap.page(page).artifact(Artifact::Layout, draw)
    }
}
