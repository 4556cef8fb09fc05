//! The report's sheets, drawn from what the check found.

use std::collections::BTreeSet;

use crate::check::Checked;
use crate::report::pdf::{Document, Meta, PdfError};

mod back;
pub(in crate::report) mod beside;
mod casting_off;
pub(in crate::report) mod frame;
mod front;
mod greys;
mod maps;
pub(in crate::report) mod mark;
mod strip;
pub(in crate::report) mod style;
mod timeline;

/// Sheets of a report that is not asked for in full.
const MOST_SHEETS: usize = 12;

/// How much is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Extent {
    /// At most a dozen sheets: what is worth acting on.
    #[default]
    Short,
    /// Every opening with findings, and the guidelines in force.
    Full,
}

/// The report as a PDF.
///
/// # Errors
/// Only mistakes of the drawing code itself; none for any score.
pub fn write(checked: &Checked, extent: Extent) -> Result<Vec<u8>, PdfError> {
    let title = checked.score.title.as_deref().unwrap_or("Untitled score");
    let meta = Meta::new(format!("{title}: the score before printing"), "en-GB")
        .with_subject("What to mend before the score is printed, page by page");
    let mut doc = Document::new(meta);
    let frame = frame::Frame::new(title);
    let budget = match extent {
        Extent::Full => maps::Extent::Full,
        Extent::Short => maps::Extent::AtMost(MOST_SHEETS.saturating_sub(2 + back_sheets(checked))),
    };
    let first = front::Front::begin(&mut doc, &frame, checked);
    timeline::draw(&mut doc, &frame, &checked.score, &checked.survey.timeline);
    let subject = maps::Subject::new(&checked.score, &checked.layout, &checked.survey, &checked.findings);
    let drawn = maps::write(&mut doc, &frame, &subject, budget, &first.entries());
    first.draw(&mut doc, &drawn.marked);
    casting_off::draw(&mut doc, &frame, checked);
    beside::draw(&mut doc, &frame, checked);
    back::draw(&mut doc, &frame, checked, extent, &drawn.marked);
    doc.finish()
}

/// Sheets that the back matter takes, found by drawing it once for nothing.
fn back_sheets(checked: &Checked) -> usize {
    let mut scrap = Document::new(Meta::new("", "en-GB"));
    let frame = frame::Frame::new("");
    casting_off::draw(&mut scrap, &frame, checked);
    beside::draw(&mut scrap, &frame, checked);
    back::draw(&mut scrap, &frame, checked, Extent::Short, &BTreeSet::new());
    scrap.page_count()
}
