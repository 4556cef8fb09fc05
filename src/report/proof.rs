//! What is written of proofed parts: pages for the librarian and the second reader, JSON, a table in the terminal.

use std::io::{self, Write};

use schemars::generate::SchemaSettings;

use crate::check::Proofed;
use crate::report::pdf::PdfError;
use crate::report::terminal::Look;

mod faults;
mod findings;
pub mod model;
mod pack;
mod printed;
mod summary;
mod table;
mod words;

#[cfg(test)]
mod tests;

/// Writes the published JSON, one line.
///
/// # Errors
/// What the writer says.
pub fn json(proofed: &Proofed, out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer(&mut *out, &model::ProofReport::of(proofed))?;
    out.write_all(b"\n")
}

/// The schema of the published JSON, as JSON.
#[must_use]
pub fn schema() -> String {
    let generator = SchemaSettings::default().for_serialize().into_generator();
    format!("{:#}\n", generator.into_root_schema_for::<model::ProofReport>().as_value())
}

/// A summary of the set, what differs player by player, and a sheet for the second reader of each part.
///
/// # Errors
/// Only mistakes of the drawing code itself; none for any score.
pub fn pdf(proofed: &Proofed) -> Result<Vec<u8>, PdfError> {
    summary::document(proofed).finish()
}

/// The set in a table, then what differs; `full` tells the lesser things, too. `written` are the files, as the user
/// shall find them.
#[must_use]
pub fn terminal(proofed: &Proofed, look: Look, full: bool, written: &[String]) -> String {
    table::words(proofed, look, full, written)
}
