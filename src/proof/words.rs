//! What both sides have, in words of the player.

use super::heard::HeardNote;
use super::side::Both;
use crate::score::{Bar, Key, Transposition};
use crate::units::Fraction;

/// How a pair's part is written: what turns sounding pitches into the player's own.
#[derive(Clone, Copy)]
pub(super) struct InPart {
    transposition: Transposition,
    key: Key,
}

impl InPart {
    pub fn of(both: &Both<'_>, part: usize) -> InPart {
        let cell = both.part.cells(part).first();
        InPart {
            transposition: cell.map_or_else(Transposition::default, |cell| cell.transposition),
            key: cell.map_or_else(Key::default, |cell| cell.key),
        }
    }

    /// "B flat 4" as the player would write it; unpitched notes by the place they stand on.
    pub fn pitch(self, note: &HeardNote) -> String {
        if note.is_unpitched() {
            return format!("a stroke on {}", note.sounding);
        }
        self.transposition.written(note.sounding, self.key).to_string()
    }
}

/// "beat 3", "beat 2 1/2".
pub(super) fn beat(onset: Fraction, bar: Option<&Bar>) -> String {
    format!("beat {}", beat_number(onset, bar))
}

/// The beat that an onset stands on, counted from 1 in the metre's own beats: "3", "2 1/2".
pub(crate) fn beat_number(onset: Fraction, bar: Option<&Bar>) -> String {
    let value = bar.and_then(|bar| bar.metre.as_ref()).map_or(4, |metre| metre.beat_value.max(1));
    let beats = Fraction::new(i64::from(value), 4).and_then(|by| onset.checked_mul(by)).unwrap_or(onset);
    let (whole, rest) = (beats.num().div_euclid(beats.den()), beats.num().rem_euclid(beats.den()));
    if rest == 0 { (whole + 1).to_string() } else { format!("{} {rest}/{}", whole + 1, beats.den()) }
}

/// "dotted quarter", "eighth"; in quarters where it is no plain value.
pub(super) fn length(length: Fraction) -> String {
    const NAMES: [&str; 9] = ["breve", "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th"];
    let plain = |halvings: usize| Fraction::new(8, 1 << halvings);
    let of = |halvings: usize, by: (i64, i64)| plain(halvings)?.checked_mul(Fraction::new(by.0, by.1)?);
    for (halvings, name) in NAMES.iter().enumerate() {
        let kinds = [("", (1, 1)), ("dotted ", (3, 2)), ("double-dotted ", (7, 4))];
        let fits = |kind: &&(&str, (i64, i64))| of(halvings, kind.1) == Some(length);
        if let Some((dots, _)) = kinds.iter().find(fits) {
            return format!("{dots}{name}");
        }
        if of(halvings, (2, 3)) == Some(length) {
            return format!("triplet {name}");
        }
    }
    match length.den() {
        1 => format!("{} quarters", length.num()),
        _ => format!("{length} of a quarter"),
    }
}

/// How far apart two pitches are: "a tone", "a minor third", "two octaves"; both ways alike.
pub(super) fn interval(quarter_tones: i32) -> String {
    const NAMES: [&str; 12] = [
        "an octave",
        "a semitone",
        "a tone",
        "a minor third",
        "a major third",
        "a fourth",
        "a tritone",
        "a fifth",
        "a minor sixth",
        "a major sixth",
        "a minor seventh",
        "a major seventh",
    ];
    let size = quarter_tones.unsigned_abs();
    if size % 2 == 1 {
        return format!("{size} quarter tones");
    }
    let half_tones = size / 2;
    let octaves = half_tones / 12;
    let name = NAMES.get((half_tones % 12) as usize).copied().unwrap_or_default();
    match (octaves, half_tones % 12) {
        (1, 0) => name.to_owned(),
        (_, 0) => format!("{octaves} octaves"),
        (0, _) => name.to_owned(),
        (1, _) => format!("an octave and {name}"),
        _ => format!("{octaves} octaves and {name}"),
    }
}

/// A key by its signature: "3 flats", "no sharps or flats".
pub(super) fn key(fifths: i32) -> String {
    match fifths {
        0 => "no sharps or flats".to_owned(),
        1.. => crate::words::counted(fifths as usize, "sharp"),
        _ => crate::words::counted(fifths.unsigned_abs() as usize, "flat"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_and_intervals_have_their_names() {
        let of = |num, den| length(Fraction::new(num, den).unwrap());
        assert_eq!(
            [of(1, 1), of(3, 2), of(7, 2), of(1, 3), of(8, 1)],
            ["quarter", "dotted quarter", "double-dotted half", "triplet eighth", "breve"]
        );
        assert_eq!([of(5, 1), of(5, 8)], ["5 quarters", "5/8 of a quarter"]);
        assert_eq!(
            [interval(-4), interval(24), interval(30), interval(48), interval(3)],
            ["a tone", "an octave", "an octave and a minor third", "2 octaves", "3 quarter tones"]
        );
    }
}
