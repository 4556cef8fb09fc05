//! What every sheet shares: its size, its running foot, its number.

use std::cell::Cell;

use super::style;
use crate::report::pdf::{Align, Artifact, Bookmark, Document, PageId, Target, at};
use crate::units::Mm;

/// Makes the report's sheets, numbered in the order they are asked for.
#[derive(Debug)]
pub struct Frame<'a> {
    /// Title of the work, at the foot of every sheet.
    title: &'a str,
    sheets: Cell<usize>,
}

impl<'a> Frame<'a> {
    #[must_use]
    pub fn new(title: &'a str) -> Frame<'a> {
        Frame { title, sheets: Cell::new(0) }
    }

    /// A new sheet with its foot: the work and the sheet's number. Feet differ in their number alone, so that they are
    /// known for what they are.
    pub fn sheet(&self, doc: &mut Document) -> PageId {
        let number = self.sheets.get() + 1;
        self.sheets.set(number);
        let sheet = doc.add_page(style::SHEET, number.to_string());
        let foot = style::SHEET.height - Mm(9.0);
        let quiet = style::TINY.in_grey(style::quiet());
        doc.page(sheet).artifact(Artifact::Footer, |ink| {
            let (left, right) = (style::MARGIN, style::SHEET.width - style::MARGIN);
            ink.text(at(left, foot), Align::Left, &quiet, self.title);
            ink.text(at(right, foot), Align::Right, &quiet, &format!("sheet {number}"));
        });
        sheet
    }

    /// A bookmark at the top level.
    pub fn bookmark(&self, doc: &mut Document, title: &str, target: Target) {
        doc.bookmark(Bookmark::new(title, target));
    }
}
