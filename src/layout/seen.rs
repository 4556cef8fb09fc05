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
    /// It does not lie as it is to be read.
    pub lies: Option<Lying>,
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

/// How a page lies whose music does not run from left to right as it is shown. Its boxes are those of the page set
/// upright.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lying {
    /// It reads from the top of the shown page to its bottom.
    Down,
    /// And from the bottom to the top.
    Up,
}

impl Lying {
    /// A box of the page set upright, which is `size` (width, height) then, as it is shown.
    #[must_use]
    pub fn shown(self, rect: &Rect, size: (Mm, Mm)) -> Rect {
        let (width, height) = size;
        match self {
            Lying::Down => Rect::new(height - rect.bottom, rect.left, height - rect.top, rect.right),
            Lying::Up => Rect::new(rect.top, width - rect.right, rect.bottom, width - rect.left),
        }
    }
}
