//! Findings on the user's own pages: real annotations, each an outline with its number, that every viewer shows, lists
//! and prints. The pages' own content is not touched.
//!
//! They are appended to the file as an update, so that its bytes stand unchanged at the beginning and can be had back.
//! Where that cannot be done (its table of objects is damaged, or it is locked), the file is written anew, with every
//! stream as it was; what is lost by that is told. Nothing here knows what the notes are about.

use crate::geometry::Rect;
use crate::limits::Limits;

mod annotation;
mod appearance;
mod changes;
mod digits;
mod error;
mod open;
mod ours;
mod place;
mod sheets;
mod shown;
mod signature;
mod tree;
mod write;

#[cfg(test)]
mod tests;

pub use error::{AnnotateError, Loss};

use annotation::Names;
use changes::Changes;
use open::Opened;
use shown::Shown;
use tree::Leaf;

/// One finding at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// The page, counted from 0.
    pub page: usize,
    /// From the top left corner of the page as it is shown: cropped, turned, and in its own unit. `None` for the whole
    /// page: the note then stands in its top left corner. So does one whose place is not on the page.
    pub rect: Option<Rect>,
    /// As the report numbers it: drawn at the outline.
    pub number: usize,
    /// The finding's key, from which the annotation's own name is made; notes with the same one are told apart.
    pub name: String,
    /// One line.
    pub title: String,
    /// What is wrong and what to do.
    pub text: String,
    /// Drawn thick, with a filled box for its number.
    pub heavy: bool,
}

/// Pages of another file, such as a report.
#[derive(Clone, Copy, Debug)]
pub struct Sheets<'a> {
    pub pdf: &'a [u8],
    /// How many of its first pages are taken; all, if it has fewer.
    pub count: usize,
}

/// A file with notes on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Annotated {
    pub bytes: Vec<u8>,
    /// What the user's file had and this one has not.
    pub lost: Vec<Loss>,
    /// Notes written: all.
    pub notes: usize,
    /// Sheets appended.
    pub sheets: usize,
    /// The user's bytes stand unchanged at the beginning.
    pub is_update: bool,
}

/// Writes the notes onto their pages and appends the sheets after the last page, in place of whatever rastrum wrote
/// onto this file before. Everything else stays. A page object that the file shows twice shows its notes twice.
///
/// # Errors
/// The file cannot be read, asks for a password, is certified against it, or has no such page; the sheets cannot be
/// read.
pub fn annotate(
    pdf: &[u8],
    notes: &[Note],
    sheets: Option<Sheets<'_>>,
    limits: &Limits,
) -> Result<Annotated, AnnotateError> {
    let opened = Opened::read(pdf, limits)?;
    let leaves = tree::leaves(&opened.document, limits.pages)?;
    let sheets = sheets.filter(|sheets| sheets.count > 0);
    let is_signed = signature::check(&opened.document, sheets.is_some())?;
    let mut changes = Changes::new(&opened.document);
    let leaves = ours::take_out(&mut changes, &leaves);
    let mut names = Names::default();
    let mut of_pages: Vec<Vec<&Note>> = vec![Vec::new(); leaves.len()];
    for note in notes {
        let missing = AnnotateError::NoSuchPage { page: note.page.saturating_add(1), pages: leaves.len() };
        of_pages.get_mut(note.page).ok_or(missing)?.push(note);
    }
    for (leaf, notes) in leaves.iter().zip(&of_pages).filter(|(_, notes)| !notes.is_empty()) {
        write_page(&mut changes, leaf, notes, &mut names)?;
    }
    let appended = match &sheets {
        Some(sheets) => sheets::append(&mut changes, leaves.len(), sheets, limits)?,
        None => 0,
    };
    let mut annotated = finish(&opened, &changes, is_signed, true)?;
    if annotated.is_update && is_signed && appended > 0 {
        // A signature that was given to these pages does not vouch for others.
        annotated.lost.push(Loss::Signature);
    }
    Ok(Annotated { notes: notes.len(), sheets: appended, ..annotated })
}

/// `marked`: as a file that rastrum may replace.
fn finish(
    opened: &Opened<'_>,
    changes: &Changes<'_>,
    is_signed: bool,
    marked: bool,
) -> Result<Annotated, AnnotateError> {
    let is_update = opened.takes_update();
    let (bytes, lost) = if is_update {
        (write::update(opened.bytes, opened.base, changes, marked)?, Vec::new())
    } else {
        (write::anew(changes, marked)?, opened.losses(is_signed))
    };
    Ok(Annotated { bytes, lost, notes: 0, sheets: 0, is_update })
}

fn write_page(
    changes: &mut Changes<'_>,
    leaf: &Leaf<'_>,
    notes: &[&Note],
    names: &mut Names,
) -> Result<(), AnnotateError> {
    let shown = Shown::of(changes.document, leaf);
    let mut page = changes.dict(leaf.id).unwrap_or(leaf.dict).clone();
    let mut annotations = ours::others(changes.document, &page, |_| true);
    for (note, placed) in notes.iter().zip(place::place(notes, shown.size())) {
        let name = names.next(&note.name);
        let id = annotation::write(changes, note, &placed, &shown, leaf.id, &name)?;
        annotations.push(id.into());
    }
    // An array of its own: the one it had may be that of other pages, too.
    ours::set(&mut page, annotations);
    changes.set(leaf.id, page);
    Ok(())
}

/// Takes everything by rastrum out again: the very bytes of the user's file, if rastrum's update was the last.
///
/// # Errors
/// As [`annotate`].
pub fn strip(pdf: &[u8], limits: &Limits) -> Result<Annotated, AnnotateError> {
    let opened = Opened::read(pdf, limits)?;
    let leaves = tree::leaves(&opened.document, limits.pages)?;
    let mut changes = Changes::new(&opened.document);
    ours::take_out(&mut changes, &leaves);
    if changes.objects.is_empty() {
        let bytes = opened.bytes.to_vec();
        return Ok(Annotated { bytes, lost: Vec::new(), notes: 0, sheets: 0, is_update: true });
    }
    let is_signed = signature::check(&opened.document, false)?;
    finish(&opened, &changes, is_signed, false)
}

/// Whether rastrum was the last to write this file, so that nothing of the user's is lost when it is replaced.
#[must_use]
pub fn wrote(bytes: &[u8]) -> bool {
    write::is_marked(bytes)
}
