//! Parts, staves, groups, and text on the page.

use super::Family;
use crate::geometry::Rect;
use crate::place::PartId;
use crate::units::Mm;

/// A part of the score as the file lists it: one instrument, a pair, a section.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Part {
    /// The file's own name for it, from the first movement it stands in.
    pub id: String,
    /// As printed on the first system; empty when the file gives none.
    pub name: String,
    /// As printed later; empty when the file gives none.
    pub abbreviation: String,
    /// Names of the instruments that its players hold, in the file's words; several when they double.
    pub instruments: Vec<String>,
    /// The file's standard sound names (MusicXML instrument-sound, "wind.reed.oboe").
    pub sounds: Vec<String>,
    pub family: Family,
    pub note_elements: u64,
}

/// One staff of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Staff {
    pub part: PartId,
    /// Counted from 1 at the part's top.
    pub number: u16,
}

/// How a written pitch becomes the sounding one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Transposition {
    /// Staff steps up.
    pub diatonic: i8,
    /// Half tones up.
    pub chromatic: i8,
    pub octaves: i8,
}

impl Transposition {
    /// Sounds as written, or only octaves away: nothing that a conductor has to transpose.
    #[must_use]
    pub fn is_at_pitch_class(self) -> bool {
        self.chromatic.rem_euclid(12) == 0
    }
}

/// A bracket, brace or line over neighbouring parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    pub first: PartId,
    pub last: PartId,
    pub symbol: GroupSymbol,
    pub name: String,
    /// Barlines run through the whole group; `None` when the file does not say.
    pub joins_barlines: Option<bool>,
    /// Groups inside others have higher levels; 0 is outermost.
    pub level: u8,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GroupSymbol {
    Bracket,
    Brace,
    Line,
    Square,
    None,
}

/// Text printed on a page outside the music (MusicXML credit).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Credit {
    /// Which input file, and the page within it counted from 1.
    pub input: u16,
    pub page: u32,
    pub text: String,
    /// What the file says it is: "title", "page number", ...
    pub kind: Option<String>,
    /// Where it begins, when recorded; from the page's top left corner.
    pub x: Option<Mm>,
    pub y: Option<Mm>,
    /// "left", "center", "right" of `x`.
    pub justify: Option<String>,
    /// Size of its type in points (1/72 inch).
    pub points: Option<f64>,
    /// Filled in when the size of its type is known well enough.
    pub rect: Option<Rect>,
}
