//! What one sheet hands on to the next: anchors set, bookmarks, sheets; and what is the same on all of them.

use std::collections::BTreeSet;

use super::sheet::{BELOW_HEADING, HEADING, LEFT, LEGEND, RIGHT};
use super::{Drawn, Subject, anchor, pens};
use crate::geometry::Rect;
use crate::report::pages::frame::Frame;
use crate::report::pages::greys;
use crate::report::pages::mark;
use crate::report::pdf::{Align, Bookmark, Canvas, Document, Elem, Ink, PageId, Tag, Target, at};
use crate::rules::Weight;
use crate::units::Mm;

/// The maps under way.
#[derive(Debug)]
pub struct Stage<'a> {
    frame: &'a Frame<'a>,
    pub subject: &'a Subject<'a>,
    /// Findings that are told elsewhere in the document.
    pub entries: &'a BTreeSet<usize>,
    drawn: Drawn,
    bookmarks: Vec<Bookmark>,
}

/// A sheet that has its heading and foot, and its element.
#[derive(Clone, Copy, Debug)]
pub struct Sheet {
    pub page: PageId,
    pub section: Elem,
}

impl<'a> Stage<'a> {
    pub fn new(frame: &'a Frame<'a>, subject: &'a Subject<'a>, entries: &'a BTreeSet<usize>) -> Stage<'a> {
        Stage { frame, subject, entries, drawn: Drawn::default(), bookmarks: Vec::new() }
    }

    pub fn done(self) -> (Drawn, Vec<Bookmark>) {
        (self.drawn, self.bookmarks)
    }

    /// A new sheet with a heading, a quiet line below it, and a bookmark.
    pub fn sheet(&mut self, doc: &mut Document, heading: &str, line: &str, scale: &str) -> Sheet {
        let section = doc.element(doc.root(), Tag::Sect);
        let page = self.add(doc);
        self.bookmarks.push(Bookmark::new(heading, Target::Page(page, Mm::ZERO)));
        let title = doc.element(section, Tag::H2);
        let mut canvas = doc.page(page);
        canvas.tagged(title, |ink| ink.text(at(LEFT, HEADING), Align::Left, &pens::heading(), heading));
        if !line.is_empty() {
            let below = canvas.element(section, Tag::P);
            canvas.tagged(below, |ink| ink.text(at(LEFT, BELOW_HEADING), Align::Left, &pens::quiet(), line));
        }
        let text = canvas.element(section, Tag::P);
        canvas.tagged(text, |ink| ink.text(at(RIGHT, HEADING), Align::Right, &pens::quiet(), scale));
        let key = canvas.element(section, Tag::P);
        canvas.tagged(key, legend);
        Sheet { page, section }
    }

    /// A further sheet for words that found no room on the last.
    pub fn continuation(&mut self, doc: &mut Document, section: Elem, heading: &str) -> PageId {
        let page = self.add(doc);
        let title = doc.element(section, Tag::P);
        let mut canvas = doc.page(page);
        canvas.tagged(title, |ink| ink.text(at(LEFT, HEADING), Align::Left, &pens::heading(), heading));
        page
    }

    /// Names the place of a finding's first mark.
    pub fn anchor(&mut self, canvas: &mut Canvas<'_>, number: usize, y: Mm) {
        if self.drawn.marked.insert(number) {
            canvas.anchor(anchor(number), y);
        }
    }

    fn add(&mut self, doc: &mut Document) -> PageId {
        let page = self.frame.sheet(doc);
        self.drawn.sheets.push(page);
        page
    }
}

/// What marks and greys mean.
fn legend(ink: &mut Ink<'_>) {
    const MARK: Mm = Mm(2.4);
    let style = pens::tiny();
    let middle = LEGEND - Mm(0.9);
    let mut x = LEFT;
    for weight in [Weight::Stop, Weight::Mend, Weight::Look] {
        mark::plain(ink, at(x + MARK / 2.0, middle), MARK, weight);
        x += MARK + Mm(1.2);
        x += ink.text(at(x, LEGEND), Align::Left, &style, weight.words()) + Mm(5.0);
    }
    let much = ink.text(at(RIGHT, LEGEND), Align::Right, &style, "much to read");
    let mut right = RIGHT - much - Mm(1.4);
    for class in (0..greys::CLASSES).rev() {
        ink.rect(Rect::new(right - Mm(5.0), middle - Mm(1.2), right, middle + Mm(1.2)), &greys::tint(class));
        right = right - Mm(5.0);
    }
    ink.text(at(right - Mm(1.4), LEGEND), Align::Right, &style, "little");
}
