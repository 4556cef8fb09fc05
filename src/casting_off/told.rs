//! What the files tell of bar numbers and names.

use crate::layout::{BarRecord, Page, Record, System, Told};
use crate::score::Score;

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
    let systems = pages.iter().flat_map(|page| page.systems.iter().map(move |system| (page, system)));
    let mut later = systems.skip(1).peekable();
    later.peek()?;
    // Two letters take about as much room as a staff is high; brackets and braces alone take less.
    let has_room = |(page, system): (&Page, &System)| {
        let indent = system.rect.left - page.margins.value.left;
        system.staves.first().is_some_and(|staff| indent >= staff.height)
    };
    later.all(has_room).then_some(true)
}
