//! What is written of compared drafts: pages, JSON, a summary in the terminal.

use std::io::{self, Write};

use schemars::generate::SchemaSettings;

use crate::check::Compared;
use crate::report::pdf::PdfError;
use crate::report::terminal::Look;

mod axis;
mod faults;
pub mod model;
mod pages;
mod pairs;
mod passages;
mod rulers;
mod slips;
mod table;
mod words;

#[cfg(test)]
mod tests;

/// Writes the published JSON, one line.
///
/// # Errors
/// What the writer says.
pub fn json(compared: &Compared, out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer(&mut *out, &model::CompareReport::of(compared))?;
    out.write_all(b"\n")
}

/// The schema of the published JSON, as JSON.
#[must_use]
pub fn schema() -> String {
    let generator = SchemaSettings::default().for_serialize().into_generator();
    format!("{:#}\n", generator.into_root_schema_for::<model::CompareReport>().as_value())
}

/// What changed in a sentence, then which sheets have to be printed again; `full` tells what is written in by hand, and every
/// finding, too. `written` are the files, as the user shall find them.
#[must_use]
pub fn terminal(compared: &Compared, look: Look, full: bool, written: &[String]) -> String {
    table::words(compared, look, full, written)
}

/// What changed, the reprint list, the errata slip, pages side by side, edited bars, faults.
///
/// # Errors
/// Only mistakes of the drawing code itself; none for any drafts.
pub fn pdf(compared: &Compared) -> Result<Vec<u8>, PdfError> {
    pages::document(compared).finish()
}
