//! What the files tell of bar numbers and names.

use crate::layout::{BarRecord, Page, Record, Told};
use crate::score::Score;
use crate::units::Mm;

/// Facts about the whole document; what no file tells is `None`.
pub(super) fn told(score: &Score, record: &Record, pages: &[Page]) -> Told {
    Told { bar_numbers: bar_numbers(record), names_on_later_systems: names_on_later_systems(score, pages) }
}

fn bar_numbers(record: &Record) -> Option<bool> {
    let said = record.defaults.iter().chain(&record.bars).filter_map(|bar: &BarRecord| bar.bar_numbering.as_deref());
    said.map(|numbering| numbering != "none").reduce(|one, other| one || other)
}

/// No part has a short name: none can stand there. All later systems leave room at the left for the short names that
/// the file has: they stand there. Otherwise the file does not tell.
fn names_on_later_systems(score: &Score, pages: &[Page]) -> Option<bool> {
    if score.parts.iter().all(|part| part.abbreviation.trim().is_empty()) {
        return (!score.parts.is_empty()).then_some(false);
    }
    let indents = pages
        .iter()
        .flat_map(|page| page.systems.iter().map(move |system| (system, system.rect.left - page.margins.value.left)));
    let mut later = indents.skip(1).peekable();
    later.peek()?;
    // A short name of three letters takes about two staff spaces a letter.
    let has_room = later
        .all(|(system, indent)| system.staves.first().is_some_and(|staff| indent >= (staff.height * 1.0).max(Mm(2.0))));
    has_room.then_some(true)
}
