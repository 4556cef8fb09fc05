//! Other pitches for the notes of a bar.

use super::super::text::{elements, replaced, value};

/// Steps and half tones up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Interval {
    pub steps: i32,
    pub half_tones: i32,
}

impl Interval {
    /// Fifths up in the circle of keys.
    pub fn fifths(self) -> i32 {
        7 * self.half_tones - 12 * self.steps
    }
}

const STEPS: &str = "CDEFGAB";
const NATURAL: [i32; 7] = [0, 2, 4, 5, 7, 9, 11];

/// Every note so many staff steps higher, with the sign it had: other music in the same rhythm.
pub fn shifted(bar: &str, steps: i32) -> String {
    replaced(bar, "pitch", |pitch| by_steps(pitch, steps))
}

/// One pitch, so many staff steps higher.
pub fn by_steps(pitch: &str, steps: i32) -> String {
    let Some((step, octave)) = place(pitch) else { return pitch.to_owned() };
    let at = octave * 7 + step + steps;
    written(at, value(pitch, "alter").unwrap_or("0"))
}

/// Every note and key an interval higher, as an instrument that sounds lower has it written.
pub fn transposed(bar: &str, by: Interval) -> String {
    let keys = replaced(bar, "fifths", |element| {
        let fifths: i32 = value(element, "fifths").and_then(|text| text.parse().ok()).unwrap_or(0);
        format!("<fifths>{}</fifths>", fifths + by.fifths())
    });
    replaced(&keys, "note", |note| {
        let Some(pitch) = elements(note, "pitch").next() else { return note.to_owned() };
        let (new, alter) = raised(&note[pitch.clone()], by);
        let note = format!("{}{new}{}", &note[..pitch.start], &note[pitch.end..]);
        replaced(&note, "accidental", |_| format!("<accidental>{}</accidental>", accidental(alter)))
    })
}

fn raised(pitch: &str, by: Interval) -> (String, i32) {
    let alter: i32 = value(pitch, "alter").and_then(|text| text.parse().ok()).unwrap_or(0);
    let Some((step, octave)) = place(pitch) else { return (pitch.to_owned(), alter) };
    let height = octave * 12 + NATURAL[step as usize] + alter + by.half_tones;
    let at = octave * 7 + step + by.steps;
    let alter = height - at.div_euclid(7) * 12 - NATURAL[at.rem_euclid(7) as usize];
    (written(at, &alter.to_string()), alter)
}

fn place(pitch: &str) -> Option<(i32, i32)> {
    let step = STEPS.find(value(pitch, "step")?)? as i32;
    Some((step, value(pitch, "octave")?.parse().ok()?))
}

fn written(at: i32, alter: &str) -> String {
    let (octave, step) = (at.div_euclid(7), at.rem_euclid(7) as usize);
    let alter = if alter == "0" { String::new() } else { format!("<alter>{alter}</alter>") };
    format!("<pitch><step>{}</step>{alter}<octave>{octave}</octave></pitch>", &STEPS[step..=step])
}

fn accidental(alter: i32) -> &'static str {
    match alter {
        ..=-2 => "flat-flat",
        -1 => "flat",
        0 => "natural",
        1 => "sharp",
        _ => "double-sharp",
    }
}
