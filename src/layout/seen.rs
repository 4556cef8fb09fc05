//! What is known only of pages that were looked at.

use crate::geometry::Rect;
use crate::units::Mm;

/// Measured on the drawing of one page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seen {
    /// Around all that is drawn.
    pub ink: Rect,
    /// Words in and around the music.
    pub words: Vec<SeenWords>,
    /// How thick staff lines are.
    pub staff_line: Option<Mm>,
    /// Fonts that the page uses and the file does not hold.
    pub missing_fonts: Vec<String>,
    /// Music beyond the right end of its staves, system by system as far as it reaches.
    pub beyond: Vec<Beyond>,
}

/// Words with their place and the size of their type.
#[derive(Clone, Debug, PartialEq)]
pub struct SeenWords {
    pub text: String,
    pub rect: Rect,
    /// The em.
    pub size: Mm,
    pub kind: WordsKind,
}

/// What words belong to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WordsKind {
    /// Instructions in the music.
    Music,
    /// A number, of a bar, a page or a tuplet.
    Number,
    /// The name of a staff.
    Name,
    /// Titles, running heads, notices.
    Around,
}

/// What runs on beyond the staves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beyond {
    /// The system on its page, counted from 0.
    pub system: u16,
    /// The staff of that system that it is nearest to, counted from 0.
    pub staff: u16,
    /// The sign that runs on.
    pub rect: Rect,
}
