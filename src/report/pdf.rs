//! Tagged PDF pages: drawing, structure, links, bookmarks and text that flows over pages.
//!
//! Nothing here knows of music; nothing outside sees the PDF libraries below. A [`Document`] owns pages and one
//! structure tree. Marks are drawn through [`Ink`], and an `Ink` is only ever lent out by
//! [`Canvas::tagged`], [`Canvas::link`] and [`Canvas::artifact`], so that no mark stands outside the
//! structure or the artifacts:
//!
//! ```
//! use rastrum::geometry::Rect;
//! use rastrum::report::pdf::*;
//! use rastrum::units::Mm;
//!
//! let mut doc = Document::new(Meta::new("Before the first rehearsal", "en-GB"));
//! let page = doc.add_page(PageSize::A4, "1");
//! let heading = doc.element(doc.root(), Tag::H1);
//! let mut canvas = doc.page(page);
//! canvas.tagged(heading, |ink| {
//!     ink.text(at(Mm(20.0), Mm(30.0)), Align::Left, &TextStyle::new(Face::Bold, Points(16.0)), "Flute 1");
//! });
//! canvas.artifact(Artifact::Layout, |ink| {
//!     ink.rect(Rect::new(Mm(20.0), Mm(40.0), Mm(60.0), Mm(50.0)), &Paint::fill(Grey::new(0.8)));
//! });
//! let bytes = doc.finish()?;
//! assert!(bytes.starts_with(b"%PDF-1.7"));
//! # Ok::<(), PdfError>(())
//! ```
//!
//! What only the caller can see to, so that the document serves those who hear it (PDF/UA-1, ISO 14289-1):
//! the first heading is an [`H1`](Tag::H1) and no level is skipped on the way down (7.4); a table has header cells
//! (7.5); a figure's words say what it shows (7.3); a [`Note`](Tag::Note) begins with its label, a
//! [`Lbl`](Tag::Lbl); what is repeated on each page is an [`Artifact`] (7.8); links of a table of contents stand in a
//! [`Reference`](Tag::Reference); more than a few pages want bookmarks. Elements are read in the order they were made,
//! marks in the order they were drawn: draw in reading order.
//!
//! Positions are millimetres from the page's top left corner, y downwards; text stands on its baseline.
//! [`Flow`] sets headings, paragraphs, lists, tables and drawings into a region and asks for a new page when it is
//! full. The same calls give the same bytes, on every machine and in every thread.

mod canvas;
mod document;
mod error;
mod flow;
mod fonts;
mod ink;
mod outline;
mod path;
mod size;
mod structure;
mod style;
mod tag;
mod write;

pub use canvas::{Artifact, Canvas};
pub use document::{Document, Meta, PageId};
pub use error::PdfError;
pub use flow::{
    Block, Cell, Column, Drawing, Flow, Heading, Kind, Level, Line, List, ListItem, Paragraph, ParagraphStyle, Region,
    Row, Table, TableStyle, Text, Width, wrap,
};
pub use fonts::{ascent, cap_height, descent, music_box, music_width, shortened, text_width, x_height};
pub use ink::Ink;
pub use outline::{Bookmark, Shown, Target};
pub use path::Path;
pub use size::{Grey, PageSize, Point, Points, at};
pub use structure::Elem;
pub use style::{Align, Cap, Dash, Face, Paint, Stroke, TextStyle, Turn};
pub use tag::{Numbering, Scope, Tag};

#[cfg(test)]
mod tests;
