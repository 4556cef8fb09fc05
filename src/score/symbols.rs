//! Clefs and keys.

/// The sign of a clef.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum ClefSign {
    #[default]
    G,
    F,
    C,
    Percussion,
    Tablature,
    None,
}

/// A clef on its line, perhaps an octave off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Clef {
    pub sign: ClefSign,
    /// Staff line counted from the bottom, 1 to 5.
    pub line: i8,
    /// Written an octave above (-1) or below (+1) ... where it sounds: MusicXML's clef-octave-change.
    pub octave_change: i8,
}

impl Default for Clef {
    fn default() -> Self {
        Clef { sign: ClefSign::G, line: 2, octave_change: 0 }
    }
}

impl Clef {
    /// Staff steps above C0 (see `Pitch::steps`) of the middle line of a five-line staff.
    #[must_use]
    pub fn middle_line_steps(self) -> i32 {
        let sign_steps = match self.sign {
            ClefSign::F => 3 * 7 + 3,
            ClefSign::C => 4 * 7,
            // Percussion notes are placed as if in the treble clef (MusicXML: display-step, display-octave).
            ClefSign::G | ClefSign::Percussion | ClefSign::Tablature | ClefSign::None => 4 * 7 + 4,
        };
        let line = match self.sign {
            ClefSign::Percussion | ClefSign::Tablature | ClefSign::None => 2,
            _ => i32::from(self.line),
        };
        sign_steps + i32::from(self.octave_change) * 7 + 2 * (3 - line)
    }
}

/// A key by its number of sharps (positive) or flats (negative); other keys have no accidentals counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Key {
    pub fifths: i8,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::score::Pitch;

    fn middle(sign: ClefSign, line: i8) -> i32 {
        Clef { sign, line, octave_change: 0 }.middle_line_steps()
    }

    /// Common practice: the middle line is B4 in treble, C4 in alto, A3 in tenor, D3 in bass clef.
    #[test]
    fn the_middle_line_bears_the_pitch_that_every_player_knows() {
        let pitch = |octave, step| Pitch { octave, step, alter: 0 }.steps();
        assert_eq!(middle(ClefSign::G, 2), pitch(4, 6));
        assert_eq!(middle(ClefSign::C, 3), pitch(4, 0));
        assert_eq!(middle(ClefSign::C, 4), pitch(3, 5));
        assert_eq!(middle(ClefSign::F, 4), pitch(3, 1));
    }
}
