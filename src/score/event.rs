//! Notes, chords and rests.

use super::Signs;
use crate::units::{Fraction, Mm};

/// A chord (one note or more on one stem) or a rest, in one voice of one staff.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// From the start of the bar, in quarters.
    pub onset: Fraction,
    /// Sounding length in quarters; 0 for grace notes.
    pub length: Fraction,
    pub value: NoteValue,
    /// The voice as the file numbers it; staves of one part share the numbering.
    pub voice: u16,
    pub kind: EventKind,
    pub grace: Grace,
    /// Small notes that another player plays.
    pub cue: bool,
    /// `false` for notes that the file hides.
    pub printed: bool,
    pub stem: Stem,
    /// Number of beams at this note; 0 when flagged or unbeamed.
    pub beams: u8,
    /// Staccato, accent, tenuto, bow and fingering signs: how many stand at the note.
    pub articulations: u8,
    /// Trills, turns, mordents.
    pub ornaments: u8,
    /// Which articulations, techniques and ornaments stand at the note.
    pub signs: Signs,
    /// Strokes of a tremolo; 0 without.
    pub tremolo: u8,
    /// The tremolo runs between this and the next note.
    pub tremolo_between: bool,
    pub fermata: bool,
    pub arpeggio: bool,
    /// A tuplet bracket or number begins here.
    pub tuplet_starts: bool,
    pub slurs: Spanner,
    pub lyrics: Vec<Syllable>,
    pub at: Position,
    /// Which note element of its part's bar it is, or begins with, counted from 0; `None` where it stands in no file.
    pub nth: Option<u32>,
}

impl Event {
    /// A printed event in voice 1 with nothing at it.
    #[must_use]
    pub fn new(onset: Fraction, length: Fraction, value: NoteValue, kind: EventKind) -> Event {
        Event {
            onset,
            length,
            value,
            voice: 1,
            kind,
            grace: Grace::No,
            cue: false,
            printed: true,
            stem: Stem::Unknown,
            beams: 0,
            articulations: 0,
            ornaments: 0,
            signs: Signs::NONE,
            tremolo: 0,
            tremolo_between: false,
            fermata: false,
            arpeggio: false,
            tuplet_starts: false,
            slurs: Spanner::default(),
            lyrics: Vec::new(),
            at: Position::default(),
            nth: None,
        }
    }
}

/// What an event is.
#[derive(Clone, Debug, PartialEq)]
pub enum EventKind {
    /// Notes from the lowest to the highest as written.
    Chord(Vec<Note>),
    /// `whole_bar`: a bar's rest in whatever metre.
    Rest { whole_bar: bool },
}

/// One notehead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// As written (not sounding); for unpitched notes where they stand on the staff.
    pub pitch: Pitch,
    /// Placed by line, not by pitch (drums).
    pub unpitched: bool,
    /// An accidental is printed before it.
    pub accidental: bool,
    pub tie_starts: bool,
    pub tie_stops: bool,
    /// Which note element of its part's bar it is, counted from 0; `None` where it stands in no file.
    pub nth: Option<u32>,
}

/// A written pitch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pitch {
    pub octave: i8,
    /// 0 = C ... 6 = B.
    pub step: u8,
    /// Quarter tones: 2 = sharp, -2 = flat.
    pub alter: i8,
}

impl Pitch {
    /// Staff steps above C0: one for each line or space.
    #[must_use]
    pub fn steps(self) -> i32 {
        i32::from(self.octave) * 7 + i32::from(self.step)
    }
}

/// The printed note value: the power of two below a whole note (2 = quarter), and dots. `None` when the file is silent.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct NoteValue {
    /// 0 = whole, 1 = half, 2 = quarter, 3 = eighth ...; -1 = breve, -2 = long.
    pub halvings: Option<i8>,
    pub dots: u8,
}

/// Grace notes take no time of their own.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Grace {
    #[default]
    No,
    /// With a stroke through the stem.
    Stroked,
    Plain,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stem {
    Up,
    Down,
    /// None drawn.
    None,
    /// The file does not say.
    #[default]
    Unknown,
}

/// How many lines (slurs) begin and end at an event.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Spanner {
    pub starts: u8,
    pub stops: u8,
}

/// A syllable under a note.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Syllable {
    /// Counted from 1, downwards.
    pub verse: u8,
    pub text: String,
}

/// Where the file says that something is printed; all `None` when it does not.
///
/// `x` from the bar's left barline rightwards; `y` from the staff's top line downwards; `dx`, `dy` are moves from
/// wherever automatic placing would have put it, known even when `x`, `y` are not.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Position {
    pub x: Option<Mm>,
    pub y: Option<Mm>,
    pub dx: Mm,
    pub dy: Mm,
}
