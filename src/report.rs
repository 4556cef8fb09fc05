//! What the user is given to read: pages, JSON, and a summary in the terminal.

use std::io::{self, Write};

use schemars::generate::SchemaSettings;

use crate::check::Checked;

mod blocks;
pub mod drafts;
pub mod model;
mod notes;
pub mod pages;
pub mod parts;
pub mod pdf;
pub mod proof;
mod proposed;
pub mod terminal;
pub mod verdict;
mod what_if;
pub mod whereabouts;

pub use notes::notes;

/// Writes the published JSON, one line.
///
/// # Errors
/// What the writer says.
pub fn json(checked: &Checked, out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer(&mut *out, &model::Report::of(checked))?;
    out.write_all(b"\n")
}

/// The schema of the published JSON, as JSON. What may be null is there all the same.
#[must_use]
pub fn schema() -> String {
    let generator = SchemaSettings::default().for_serialize().into_generator();
    format!("{:#}\n", generator.into_root_schema_for::<model::Report>().as_value())
}

/// Whether these bytes are a PDF that rastrum wrote: such a file may be replaced.
#[must_use]
pub fn wrote_pdf(bytes: &[u8]) -> bool {
    bytes.starts_with(b"%PDF-") && contains(bytes, b"<pdf:Producer>rastrum</pdf:Producer>")
}

/// Whether these bytes are JSON that rastrum wrote.
#[must_use]
pub fn wrote_json(bytes: &[u8]) -> bool {
    bytes.starts_with(b"{\"schema\":\"rastrum-report-")
        || bytes.starts_with(b"{\"schema\":\"rastrum-parts-")
        || bytes.starts_with(b"{\"schema\":\"rastrum-proof-")
        || bytes.starts_with(b"{\"schema\":\"rastrum-compare-")
}

fn contains(bytes: &[u8], wanted: &[u8]) -> bool {
    bytes.windows(wanted.len()).any(|window| window == wanted)
}
