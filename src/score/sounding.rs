//! Written and sounding pitches, and how a sound is spelt.

use std::fmt;

use super::{Key, Pitch, Transposition};

/// Quarter tones from C up to each natural note.
const NATURAL: [i32; 7] = [0, 4, 8, 10, 14, 18, 22];
const OCTAVE: i32 = 24;

/// A reader takes a note as it comes up to so many fifths from the middle of the key; six is half-way round.
const AT_HOME: i32 = 8;

impl Pitch {
    /// Twice the key number of MIDI, where C4 is 60; so that quarter tones are whole numbers.
    #[must_use]
    pub fn quarter_tones(self) -> i32 {
        let natural = NATURAL.get(usize::from(self.step)).copied().unwrap_or_default();
        (i32::from(self.octave) + 1) * OCTAVE + natural + i32::from(self.alter)
    }

    /// So many fifths above C, on the line F C G D A E B F sharp ...; quarter tones count as the note below them.
    fn fifths(self) -> i32 {
        const LINE: [i32; 7] = [0, 2, 4, -1, 1, 3, 5];
        let natural = LINE.get(usize::from(self.step)).copied().unwrap_or_default();
        natural + 7 * i32::from(self.alter).div_euclid(2)
    }

    /// The note on a staff step (see [`Pitch::steps`]) that sounds so many quarter tones high; `None` where that is
    /// more than two accidentals off.
    fn on(steps: i32, quarter_tones: i32) -> Option<Pitch> {
        let octave = i8::try_from(steps.div_euclid(7)).ok()?;
        let natural = Pitch { octave, step: u8::try_from(steps.rem_euclid(7)).ok()?, alter: 0 };
        let alter =
            i8::try_from(quarter_tones - natural.quarter_tones()).ok().filter(|alter| alter.unsigned_abs() <= 4)?;
        Some(Pitch { alter, ..natural })
    }
}

/// "B flat 4": the octave that middle C begins is 4.
impl fmt::Display for Pitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const STEPS: [&str; 7] = ["C", "D", "E", "F", "G", "A", "B"];
        let step = STEPS.get(usize::from(self.step)).copied().unwrap_or("?");
        let sign = match self.alter {
            2 => " sharp",
            -2 => " flat",
            4 => " double sharp",
            -4 => " double flat",
            1 | 3 => " and a quarter tone",
            -1 | -3 => " less a quarter tone",
            _ => "",
        };
        write!(f, "{step}{sign} {}", self.octave)
    }
}

impl Transposition {
    /// Fifths from the written to the sounding key: -2 for an instrument in B flat.
    ///
    /// An interval of `d` steps and `c` half tones is `7 c - 12 d` fifths: a fifth is four steps and seven half tones.
    #[must_use]
    pub fn fifths(self) -> i32 {
        if self.steps_fit() {
            7 * i32::from(self.chromatic) - 12 * i32::from(self.diatonic)
        } else {
            // Half tones alone: the nearest way round, five flats rather than seven sharps.
            (7 * i32::from(self.chromatic) + 5).rem_euclid(12) - 5
        }
    }

    /// Quarter tones from the written to the sounding pitch.
    fn quarter_tones(self) -> i32 {
        2 * i32::from(self.chromatic) + OCTAVE * i32::from(self.octaves)
    }

    /// The pitch that a written note sounds at. Octave clefs need nothing: MusicXML's written pitch has them in it.
    ///
    /// Source: MusicXML 4.0, transpose: what "must be added to a written pitch to get a correct sounding pitch".
    #[must_use]
    pub fn sounding(self, written: Pitch) -> Pitch {
        self.moved(written, 1).unwrap_or_else(|| {
            spelt(written.quarter_tones() + self.quarter_tones(), Key::default(), written).unwrap_or(written)
        })
    }

    /// How a sounding pitch is written in a part of this transposition and key: spelt as the interval has it, or where
    /// that is remote from the key, as the key has it.
    #[must_use]
    pub fn written(self, sounding: Pitch, key: Key) -> Pitch {
        let exact = self.moved(sounding, -1);
        if let Some(exact) = exact.filter(|exact| exact.alter.unsigned_abs() <= 2 && from_key(*exact, key) <= AT_HOME) {
            return exact;
        }
        let like = exact.unwrap_or(sounding);
        spelt(sounding.quarter_tones() - self.quarter_tones(), key, like).unwrap_or(sounding)
    }

    /// Up by the interval, or down by it; `None` where the file gives half tones without steps that fit them.
    fn moved(self, pitch: Pitch, by: i32) -> Option<Pitch> {
        let steps = i32::from(self.diatonic) + 7 * i32::from(self.octaves);
        let moved = Pitch::on(pitch.steps() + by * steps, pitch.quarter_tones() + by * self.quarter_tones());
        moved.filter(|_| self.steps_fit())
    }

    /// Whether steps and half tones are one interval: a third of four half tones, not of one.
    fn steps_fit(self) -> bool {
        let (steps, half_tones) = (i32::from(self.diatonic), i32::from(self.chromatic));
        let natural = steps.div_euclid(7) * 12 + NATURAL.get(steps.rem_euclid(7) as usize).map_or(0, |up| up / 2);
        (half_tones - natural).abs() <= 1 && !(steps == 0 && half_tones != 0)
    }
}

/// Fifths from the middle note of a major key, which is its second step.
fn from_key(pitch: Pitch, key: Key) -> i32 {
    (pitch.fifths() - i32::from(key.fifths) - 2).abs()
}

/// The spelling nearest to the key; of two equally near ones, sharp or flat as `like` is.
fn spelt(quarter_tones: i32, key: Key, like: Pitch) -> Option<Pitch> {
    let near = (quarter_tones - OCTAVE) * 7 / OCTAVE;
    let spellings = (near - 3..=near + 3).filter_map(|steps| Pitch::on(steps, quarter_tones));
    spellings.min_by_key(|pitch| (from_key(*pitch, key), (pitch.alter.signum() - like.alter.signum()).abs(), *pitch))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// "Bb4", "F#3", "Ebb5".
    fn pitch(name: &str) -> Pitch {
        let step = "CDEFGAB".find(&name[..1]).unwrap() as u8;
        let octave = name[name.len() - 1..].parse().unwrap();
        let signs = &name[1..name.len() - 1];
        let alter = signs.chars().map(|sign| if sign == '#' { 2 } else { -2 }).sum();
        Pitch { octave, step, alter }
    }

    fn by(diatonic: i8, chromatic: i8, octaves: i8) -> Transposition {
        Transposition { diatonic, chromatic, octaves }
    }

    /// MIDI 1.0: key number 60 is middle C (C4), 69 the A of 440 Hz.
    #[test]
    fn middle_c_is_key_sixty() {
        assert_eq!(pitch("C4").quarter_tones(), 2 * 60);
        assert_eq!(pitch("A4").quarter_tones(), 2 * 69);
        assert_eq!(pitch("B#3").quarter_tones(), 2 * 60);
        assert_eq!(Pitch { alter: 1, ..pitch("C4") }.quarter_tones(), 121);
    }

    /// Common practice: what each instrument sounds when it reads C5.
    #[test]
    fn transposing_instruments_sound_as_every_player_knows() {
        let sounds = |how: Transposition| how.sounding(pitch("C5"));
        assert_eq!(sounds(by(-1, -2, 0)), pitch("Bb4"), "clarinet in B flat");
        assert_eq!(sounds(by(-2, -3, 0)), pitch("A4"), "clarinet in A");
        assert_eq!(sounds(by(2, 3, 0)), pitch("Eb5"), "clarinet in E flat");
        assert_eq!(sounds(by(-4, -7, 0)), pitch("F4"), "horn in F, cor anglais");
        assert_eq!(sounds(by(-5, -9, 0)), pitch("Eb4"), "alto saxophone");
        assert_eq!(sounds(by(-1, -2, -1)), pitch("Bb3"), "bass clarinet in the treble clef");
        assert_eq!(sounds(by(7, 12, 0)), pitch("C6"), "piccolo");
        assert_eq!(sounds(by(0, 0, 1)), pitch("C6"), "piccolo by octave-change");
        assert_eq!(sounds(by(0, 0, -1)), pitch("C4"), "double bass");
        assert_eq!(by(-1, -2, 0).sounding(pitch("F#4")), pitch("E4"));
    }

    #[test]
    fn keys_move_with_their_instruments() {
        assert_eq!(by(-1, -2, 0).fifths(), -2);
        assert_eq!(by(-2, -3, 0).fifths(), 3);
        assert_eq!(by(-4, -7, 0).fifths(), -1);
        assert_eq!(by(2, 3, 0).fifths(), -3);
        assert_eq!((by(7, 12, 0).fifths(), by(0, 0, -1).fifths(), by(0, -2, 0).fifths()), (0, 0, -2));
    }

    #[test]
    fn half_tones_alone_are_spelt_in_the_plainest_way() {
        assert_eq!(by(0, -2, 0).sounding(pitch("C5")), pitch("Bb4"));
        assert_eq!(by(0, -7, 0).sounding(pitch("C5")), pitch("F4"));
        assert_eq!(by(0, 12, 0).sounding(pitch("C5")), pitch("C6"));
    }

    #[test]
    fn a_cue_is_written_as_its_reader_would_write_it() {
        let horn = by(-4, -7, 0);
        assert_eq!(horn.written(pitch("F4"), Key::default()), pitch("C5"));
        assert_eq!(horn.written(pitch("Ab4"), Key { fifths: -2 }), pitch("Eb5"));
        // Concert G flat for a clarinet in A without a signature: B double flat by the interval, A by the key.
        assert_eq!(by(-2, -3, 0).written(pitch("Gb4"), Key::default()), pitch("A4"));
        // Raised notes of the minor keep their sharp.
        assert_eq!(by(0, 0, 0).written(pitch("G#4"), Key::default()), pitch("G#4"));
        assert_eq!(by(0, 0, 0).written(pitch("E#4"), Key { fifths: -4 }), pitch("F4"));
    }

    proptest! {
        #[test]
        fn writing_undoes_sounding(octave in 1i8..7, step in 0u8..7, alter in -1i8..=1, d in -14i8..14, c in -24i8..24, o in -2i8..=2, fifths in -7i8..=7) {
            let (pitch, how) = (Pitch { octave, step, alter: 2 * alter }, by(d, c, o));
            let sounding = how.sounding(pitch);
            prop_assert_eq!(sounding.quarter_tones() - pitch.quarter_tones(), 2 * i32::from(c) + 24 * i32::from(o));
            prop_assert_eq!(how.written(sounding, Key { fifths }).quarter_tones(), pitch.quarter_tones());
        }

        #[test]
        fn nothing_overflows(octave: i8, step: u8, alter: i8, d: i8, c: i8, o: i8, fifths: i8) {
            let (pitch, how) = (Pitch { octave, step, alter }, by(d, c, o));
            let _ = how.written(how.sounding(pitch), Key { fifths });
        }
    }
}
