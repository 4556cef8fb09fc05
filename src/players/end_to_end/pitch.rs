//! Written and sounding pitches: MusicXML's transpose (diatonic, chromatic, octave-change), clefs and octave lines apart.

use crate::score::{Pitch, Transposition};

/// Half tones above C0 of each step.
const HALF_TONES: [i32; 7] = [0, 2, 4, 5, 7, 9, 11];

/// Half tones above C0; middle C is 48.
#[must_use]
pub fn half_tones(pitch: Pitch) -> i32 {
    let step = HALF_TONES.get(usize::from(pitch.step)).copied().unwrap_or_default();
    i32::from(pitch.octave) * 12 + step + i32::from(pitch.alter) / 2
}

/// As it sounds when written for an instrument.
#[must_use]
pub fn sounding(written: Pitch, by: Transposition) -> Pitch {
    moved(
        written,
        i32::from(by.diatonic) + 7 * i32::from(by.octaves),
        i32::from(by.chromatic) + 12 * i32::from(by.octaves),
    )
}

/// As it has to be written for an instrument. Spelled as the interval asks; where that makes a double accidental, or an
/// accidental for the sound of a white key, the plainer way.
#[must_use]
pub fn written(sounding: Pitch, by: Transposition) -> Pitch {
    let steps = -i32::from(by.diatonic) - 7 * i32::from(by.octaves);
    let direct = moved(sounding, steps, -i32::from(by.chromatic) - 12 * i32::from(by.octaves));
    let is_white = matches!((direct.step, direct.alter), (0 | 3, -2) | (2 | 6, 2));
    let was_plain = by.diatonic == 0 && by.chromatic == 0;
    if direct.alter.abs() > 2 || is_white && !was_plain { respelled(direct) } else { direct }
}

/// Some staff steps and half tones higher; quarter tones go along.
fn moved(pitch: Pitch, steps: i32, by: i32) -> Pitch {
    let target = half_tones(pitch) + by;
    let quarter = pitch.alter % 2;
    let at = pitch.steps() + steps;
    let natural = Pitch { octave: at.div_euclid(7) as i8, step: at.rem_euclid(7) as u8, alter: 0 };
    let alter = (target - half_tones(natural)) * 2;
    Pitch { alter: alter.clamp(-8, 8) as i8 + quarter, ..natural }
}

/// The same sound with no accidental, or with one.
fn respelled(pitch: Pitch) -> Pitch {
    let target = half_tones(pitch);
    let fits = |steps: i32| {
        let natural = Pitch { octave: steps.div_euclid(7) as i8, step: steps.rem_euclid(7) as u8, alter: 0 };
        let alter = target - half_tones(natural);
        (alter.abs() <= 1).then_some(Pitch { alter: (alter * 2) as i8, ..natural })
    };
    let at = pitch.steps();
    (at - 2..=at + 2).filter_map(fits).min_by_key(|own| own.alter.abs()).unwrap_or(pitch)
}

#[cfg(test)]
mod tests {
    use super::*;

    const C4: Pitch = Pitch { octave: 4, step: 0, alter: 0 };

    fn by(diatonic: i8, chromatic: i8, octaves: i8) -> Transposition {
        Transposition { diatonic, chromatic, octaves }
    }

    /// Common practice: a clarinet in B flat sounds a tone lower, a horn in F a fifth lower, a piccolo an octave
    /// higher, a bass clarinet in treble clef a ninth lower.
    #[test]
    fn transposing_instruments_sound_as_every_player_knows() {
        assert_eq!(sounding(C4, by(-1, -2, 0)), Pitch { octave: 3, step: 6, alter: -2 });
        assert_eq!(sounding(C4, by(-4, -7, 0)), Pitch { octave: 3, step: 3, alter: 0 });
        assert_eq!(sounding(C4, by(0, 0, 1)), Pitch { octave: 5, step: 0, alter: 0 });
        assert_eq!(sounding(C4, by(-1, -2, -1)), Pitch { octave: 2, step: 6, alter: -2 });
    }

    #[test]
    fn writing_takes_sounding_back() {
        for transposition in [by(-1, -2, 0), by(-4, -7, 0), by(0, 0, 1), by(-1, -2, -1), by(2, 3, 0)] {
            for step in 0..7 {
                let pitch = Pitch { octave: 4, step, alter: 0 };
                let back = written(sounding(pitch, transposition), transposition);
                assert_eq!(back, pitch, "{transposition:?}");
            }
        }
    }

    /// A flat for a clarinet in A: C flat by the interval, B as it is written.
    #[test]
    fn a_white_key_is_written_without_an_accidental() {
        let a_flat = Pitch { octave: 2, step: 5, alter: -2 };
        assert_eq!(written(a_flat, by(-2, -3, 0)), Pitch { octave: 2, step: 6, alter: 0 });
        let f_sharp = Pitch { octave: 5, step: 3, alter: 2 };
        assert_eq!(written(f_sharp, by(0, 0, 1)), Pitch { octave: 4, ..f_sharp });
    }

    #[test]
    fn middle_c_is_the_forty_eighth_half_tone() {
        assert_eq!(half_tones(C4), 48);
    }
}
