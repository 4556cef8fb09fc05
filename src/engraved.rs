//! Engraved pages: what a PDF draws, measured. Staves and systems, with their places on paper; no music.
//!
//! Only `ink` knows the library that interprets pages. What is drawn is what counts: strokes, thin rectangles and thin
//! filled quads are lines, in whichever form or transformation they stand.

use crate::geometry::Rect;
use crate::limits::Limits;
use crate::units::Mm;

mod error;
mod guard;
mod ink;
mod lines;
mod staves;
mod systems;

#[cfg(test)]
mod tests;

pub use error::EngravedError;

/// One page, as it is shown: cropped and rotated, from its top left corner.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EngravedPage {
    /// Width, height.
    pub size: (Mm, Mm),
    /// From the top; empty for a cover, a preface or a picture.
    pub systems: Vec<EngravedSystem>,
    /// Something is drawn that is neither text nor line: a scan, perhaps.
    pub has_picture: bool,
}

/// Staves that are played at once.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EngravedSystem {
    /// From the top; at least one.
    pub staves: Vec<EngravedStaff>,
}

/// One staff.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EngravedStaff {
    /// From the middle of its top line to that of its bottom line; a staff of one line has no height.
    pub rect: Rect,
    /// 5, or 1.
    pub lines: u8,
    /// Barlines run on into the staff below.
    pub joined_below: bool,
}

impl EngravedPage {
    /// All staves from the top.
    pub fn staves(&self) -> impl Iterator<Item = &EngravedStaff> {
        self.systems.iter().flat_map(|system| &system.staves)
    }
}

/// Whether these bytes begin like a PDF.
#[must_use]
pub fn is_pdf(bytes: &[u8]) -> bool {
    // Some programs write a few bytes before the header, as ISO 32000-1, annex H, lets them.
    bytes.get(..bytes.len().min(1024)).unwrap_or_default().windows(5).any(|window| window == b"%PDF-")
}

/// Measures every page.
///
/// # Errors
/// The file cannot be read as PDF, asks for a password, asks for more than `limits` allow, or has no staff on any page.
pub fn measure(bytes: &[u8], limits: &Limits) -> Result<Vec<EngravedPage>, EngravedError> {
    guard::check(bytes, limits)?;
    let pages: Vec<EngravedPage> = ink::pages(bytes)?.iter().map(page).collect();
    if pages.iter().all(|page| page.systems.is_empty()) {
        let picture = pages.iter().any(|page| page.has_picture);
        return Err(if picture { EngravedError::Picture } else { EngravedError::NoStaves });
    }
    Ok(pages)
}

fn page(drawn: &ink::Drawn) -> EngravedPage {
    let horizontals = lines::joined(&drawn.horizontals);
    let verticals = lines::joined(&drawn.verticals);
    let staves = staves::find(&horizontals);
    EngravedPage { size: drawn.size, systems: systems::group(staves, &verticals), has_picture: drawn.has_picture }
}
