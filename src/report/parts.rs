//! What is written of the players' parts: pages to hand over, JSON, a table in the terminal.

use std::io::{self, Write};

use schemars::generate::SchemaSettings;

use crate::check::PartsChecked;
use crate::report::pdf::PdfError;
use crate::report::terminal::Look;

mod axis;
mod casting_off_line;
mod found;
pub mod model;
mod sheet;
mod stand;
mod summary;
mod table;
pub mod words;

/// Writes the published JSON, one line.
///
/// # Errors
/// What the writer says.
pub fn json(checked: &PartsChecked, out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer(&mut *out, &model::PartsReport::of(checked))?;
    out.write_all(b"\n")
}

/// The schema of the published JSON, as JSON.
#[must_use]
pub fn schema() -> String {
    let generator = SchemaSettings::default().for_serialize().into_generator();
    format!("{:#}\n", generator.into_root_schema_for::<model::PartsReport>().as_value())
}

/// A summary of all players, then a sheet for each to hand over.
///
/// # Errors
/// Only mistakes of the drawing code itself; none for any score.
pub fn pdf(checked: &PartsChecked) -> Result<Vec<u8>, PdfError> {
    summary::document(checked).finish()
}

/// The table of all players, with what is left to mend; `written` are the files, as the user shall find them.
#[must_use]
pub fn terminal(checked: &PartsChecked, look: Look, written: &[String]) -> String {
    table::words(checked, look, written)
}

#[cfg(test)]
mod tests;
