//! Engraved pages: what a PDF draws, measured. Staves and systems, with their places on paper; no music.
//!
//! Only `ink` knows the library that interprets pages. What is drawn is what counts: strokes, thin rectangles and thin
//! filled quads are lines, in whichever form or transformation they stand.

use crate::geometry::Rect;
use crate::layout::{Lying, StaffRole};
use crate::limits::Limits;
use crate::units::Mm;

mod barlines;
mod dividers;
mod edges;
mod error;
mod guard;
mod heads;
mod ink;
mod kinds;
mod lines;
mod numbers;
mod pages;
mod rests;
mod staves;
mod systems;
mod words;

#[cfg(test)]
mod tests;

pub use error::EngravedError;
pub use numbers::title;
pub(crate) use pages::is_name;
pub use pages::layout;

/// One page, as it is shown: cropped and rotated, from its top left corner.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EngravedPage {
    /// Width, height.
    pub size: (Mm, Mm),
    /// From the top; empty for a cover, a preface or a picture.
    pub systems: Vec<EngravedSystem>,
    /// Lines of text, in the order in which they are drawn.
    pub texts: Vec<EngravedText>,
    /// Around all that is drawn, as far as it lies on the page or runs off it.
    pub ink: Option<Rect>,
    /// Signs of the music and lines that stand in no text: note heads, slurs, hairpins.
    pub signs: Vec<Rect>,
    /// How thick most staff lines are.
    pub staff_line: Option<Mm>,
    /// Names of fonts that are used and are not in the file.
    pub missing_fonts: Vec<String>,
    /// It lies on its side as it is shown; everything told of it is told as if it stood upright.
    pub lies: Option<Lying>,
    /// Something is drawn that is neither text nor line: a scan, perhaps.
    pub has_picture: bool,
    /// It asks for more than the limits allow and was not looked at.
    pub is_unread: bool,
}

/// Staves that are played at once.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EngravedSystem {
    /// From the top; at least one.
    pub staves: Vec<EngravedStaff>,
    /// From the left.
    pub bars: Vec<EngravedBar>,
    /// The bar number printed at its beginning, as a place in the page's texts.
    pub number: Option<usize>,
    /// Dividers stand between it and the system above; `None` of the first one.
    pub divider_above: Option<bool>,
}

/// One staff.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EngravedStaff {
    /// From the middle of its top line to that of its bottom line; a staff of one line has no height.
    pub rect: Rect,
    pub lines: u8,
    /// Barlines run on into the staff below.
    pub joined_below: bool,
    /// Small staves beside others are cues; those that do not run through the system are ossias.
    pub role: StaffRole,
}

/// What stands between two barlines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EngravedBar {
    pub left: Mm,
    pub right: Mm,
    /// Note heads, as far as signs have their size.
    pub heads: u32,
    /// Bars that it stands for: more than one where it is a multi-bar rest.
    pub holds: u32,
}

/// One line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct EngravedText {
    pub text: String,
    pub rect: Rect,
    /// Of its type: the em.
    pub size: Mm,
    pub role: Option<TextRole>,
}

/// What a text is by its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextRole {
    PageNumber,
    BarNumber,
    /// A rehearsal mark: a capital letter or two above a system.
    Landmark,
    /// Stands at one place of most pages.
    RunningHead,
    /// Outside the music: a title, a name, a notice.
    Heading,
}

impl EngravedPage {
    /// All staves from the top.
    pub fn staves(&self) -> impl Iterator<Item = &EngravedStaff> {
        self.systems.iter().flat_map(|system| &system.staves)
    }
}

impl EngravedSystem {
    /// From its first to its last line, and from end to end.
    #[must_use]
    pub fn rect(&self) -> Rect {
        self.staves.iter().map(|staff| staff.rect).reduce(|all, own| all.union(&own)).unwrap_or_default()
    }
}

impl EngravedStaff {
    /// From line to line, in millimetres; of a single line what is usual.
    pub(crate) fn space(&self) -> f64 {
        if self.lines > 1 { self.rect.height().0 / f64::from(self.lines - 1) } else { USUAL_SPACE }
    }

    /// Runs through its whole system, and is no single line: barlines are looked for there.
    pub(crate) fn is_whole(&self, system: &EngravedSystem) -> bool {
        let through = self.rect.width() >= system.rect().width() * 0.9;
        through && (self.lines > 1 || system.staves.iter().all(|staff| staff.lines == 1))
    }
}

/// Of a staff 7 mm high.
const USUAL_SPACE: f64 = 1.75;

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
    let told = guard::check(bytes, limits)?;
    let may: Vec<bool> = told.iter().map(|page| page.may).collect();
    let drawn = ink::pages(bytes, &may)?;
    let fonts = words::fonts(&drawn);
    let mut pages: Vec<EngravedPage> = drawn.iter().map(|page| self::page(page, &fonts)).collect();
    let mut told = told.into_iter();
    for page in &mut pages {
        // The two libraries may find different pages in a damaged file: what was not looked at first is not read.
        let own = told.next().unwrap_or_default();
        page.missing_fonts = own.missing_fonts;
        page.is_unread = !own.may;
    }
    if is_tablature(&pages) {
        return Err(EngravedError::Tablature);
    }
    if pages.iter().all(|page| page.systems.is_empty()) {
        if pages.iter().any(|page| page.is_unread) {
            return Err(EngravedError::Endless);
        }
        let picture = pages.iter().any(|page| page.has_picture);
        return Err(if picture { EngravedError::Picture } else { EngravedError::NoStaves });
    }
    numbers::tell(&mut pages);
    Ok(pages)
}

/// Staves, and all of six lines.
fn is_tablature(pages: &[EngravedPage]) -> bool {
    let mut staves = pages.iter().flat_map(EngravedPage::staves).peekable();
    staves.peek().is_some() && staves.all(|staff| staff.lines == 6)
}

/// As it is shown; where nothing is found and all letters lie, set upright.
fn page(drawn: &ink::Drawn, fonts: &[bool]) -> EngravedPage {
    let shown = as_it_lies(drawn, fonts);
    match drawn.lies().filter(|_| shown.systems.is_empty()) {
        Some(lying) => EngravedPage { lies: Some(lying), ..as_it_lies(&drawn.upright(lying), fonts) },
        None => shown,
    }
}

fn as_it_lies(drawn: &ink::Drawn, fonts: &[bool]) -> EngravedPage {
    let horizontals = lines::joined(&drawn.horizontals);
    let verticals = lines::joined(&drawn.verticals);
    let staves = staves::find(&horizontals);
    let signs = heads::signs(drawn, fonts);
    let mut systems = systems::group(staves, &verticals);
    let figures = rests::figures(drawn);
    let thick = barlines::usual_thickness(&systems, &verticals);
    for system in &mut systems {
        system.bars = barlines::bars(system, &verticals, &signs, thick);
        let Some(staff) = system.staves.first() else { continue };
        let heads = heads::Heads::of(staff, &signs);
        for bar in system.bars.iter_mut().filter(|bar| bar.heads == 0) {
            bar.holds = rests::holds(bar, staff, &figures, &heads);
        }
    }
    dividers::find(&mut systems, &signs, drawn);
    EngravedPage {
        size: drawn.size,
        texts: words::read(drawn, fonts),
        ink: edges::around(drawn),
        staff_line: staves::thickness(&horizontals, &systems),
        signs,
        systems,
        has_picture: drawn.has_picture,
        ..EngravedPage::default()
    }
}
