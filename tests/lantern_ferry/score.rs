//! A movement in memory: bars by staves, and how phrases are written into it.

use rastrum::units::{Mm, Spaces};

use crate::orchestra::{ALL_STAVES, Staff};
use crate::paper;
use crate::phrase;
use crate::pitch::{Pitch, Transposition, chord_root, chord_tones};

/// Units of time in a quarter note; holds triplets, sextuplets and thirty-seconds exactly.
pub const QUARTER: u32 = 24;

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Kind {
    Notes(Vec<Pitch>),
    Rest,
    /// Silent for the whole bar.
    BarRest,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    Accent,
    Staccato,
    Tenuto,
    Marcato,
    SlurStart,
    SlurStop,
    Fermata,
    Trill,
    Arpeggio,
    Tremolo(u32),
    /// Small, played by somebody else.
    Cue,
}

/// So many notes in the time of so many, and where the bracket begins and ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tuplet {
    pub actual: u32,
    pub normal: u32,
    pub starts: bool,
    pub stops: bool,
}

/// A note, chord or rest.
#[derive(Clone, Debug)]
pub struct Item {
    pub kind: Kind,
    /// Sounding length in units; 0 for a grace note.
    pub units: u32,
    /// Power of two under the whole note: 0 whole, 2 quarter, 5 thirty-second.
    pub value: u32,
    pub dots: u32,
    pub tuplet: Option<Tuplet>,
    pub marks: Vec<Mark>,
    pub tied: bool,
    /// Under an octave line: +1 written an octave below what sounds.
    pub octave_line: i32,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Direction {
    Dynamic(String),
    Words(String),
    Crescendo,
    Diminuendo,
    HairpinStop,
    OctaveUp,
    OctaveStop,
}

/// A direction, its time from the start of the bar, and its place where the file records one.
#[derive(Clone, Debug)]
pub struct Placed {
    pub at: u32,
    pub what: Direction,
    pub place: Place,
}

/// Recorded place: x from the right end of the bar, y from the staff's top line upwards.
#[derive(Clone, Copy, Debug, Default)]
pub struct Place {
    pub past_bar_end: Option<Spaces>,
    pub y: Option<Spaces>,
}

/// What one staff has in one bar; no voice means silence.
#[derive(Clone, Debug, Default)]
pub struct Cell {
    pub voices: Vec<Vec<Item>>,
    pub directions: Vec<Placed>,
}

#[derive(Clone, Debug)]
pub struct Tempo {
    pub words: &'static str,
    /// The beat is a dotted quarter instead of a quarter.
    pub dotted: bool,
    pub beats_a_minute: u32,
}

/// What a bar has for all staves together.
#[derive(Clone, Debug, Default)]
pub struct BarHead {
    pub metre: (u32, u32),
    pub tempo: Option<Tempo>,
    pub rehearsal: Option<&'static str>,
    pub repeat_starts: bool,
    pub repeat_stops: bool,
    /// First or second ending that begins and ends with this bar.
    pub ending: Option<u32>,
    pub double_barline: bool,
    pub general_pause: bool,
    /// Without metre: a cadenza.
    pub free: bool,
}

impl BarHead {
    pub fn units(&self) -> u32 {
        self.metre.0 * QUARTER * 4 / self.metre.1
    }
}

/// The first movement was written twice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Draft {
    First,
    /// With a line for the ship's bell, on larger staves.
    Second,
}

pub struct Movement {
    pub number: u32,
    pub title: &'static str,
    pub draft: Draft,
    /// Sharps, or below 0 flats, of the sounding key.
    pub key: i32,
    pub heads: Vec<BarHead>,
    cells: Vec<Vec<Cell>>,
    /// First and last bar of the second flute's time as piccolo.
    pub piccolo: Option<(usize, usize)>,
    /// Other instruments that are taken up: staff, first and last bar, transposition.
    pub takes: Vec<(Staff, (usize, usize), Transposition)>,
}

impl Movement {
    /// `bars` empty bars of 4/4. Bars are counted from 1.
    pub fn new(number: u32, title: &'static str, key: i32, bars: usize) -> Movement {
        let head = BarHead { metre: (4, 4), ..BarHead::default() };
        let cells = vec![vec![Cell::default(); ALL_STAVES]; bars];
        let heads = vec![head; bars];
        Movement { number, title, draft: Draft::First, key, heads, cells, piccolo: None, takes: Vec::new() }
    }

    /// The same bars in another order; those that are not named are cut.
    pub fn rearranged(self, order: &[usize]) -> Movement {
        let heads = order.iter().map(|bar| self.heads[bar - 1].clone()).collect();
        let cells = order.iter().map(|bar| self.cells[bar - 1].clone()).collect();
        Movement { heads, cells, ..self }
    }

    /// Height of its staves.
    pub fn staff_mm(&self) -> Mm {
        if self.has_bell() { paper::SECOND_STAFF_MM } else { paper::STAFF_MM }
    }

    pub fn has_bell(&self) -> bool {
        self.draft == Draft::Second
    }

    pub fn bars(&self) -> usize {
        self.heads.len()
    }

    pub fn head(&self, bar: usize) -> &BarHead {
        &self.heads[bar - 1]
    }

    pub fn head_mut(&mut self, bar: usize) -> &mut BarHead {
        &mut self.heads[bar - 1]
    }

    pub fn cell(&self, bar: usize, staff: Staff) -> &Cell {
        &self.cells[bar - 1][staff]
    }

    /// Sets the metre from `bar` to the end.
    pub fn metre_from(&mut self, bar: usize, metre: (u32, u32)) {
        for head in &mut self.heads[bar - 1..] {
            head.metre = metre;
        }
    }

    /// Writes a phrase (see [`phrase`]) from `bar` on.
    pub fn put(&mut self, staff: Staff, bar: usize, text: &str) {
        let lengths: Vec<u32> = self.heads[bar - 1..].iter().map(BarHead::units).collect();
        for (offset, cell) in phrase::parse(text, &lengths).into_iter().enumerate() {
            let target = &mut self.cells[bar - 1 + offset][staff];
            target.voices.extend(cell.voices);
            target.directions.extend(cell.directions);
            assert!(target.voices.len() <= 2, "bar {} of staff {staff} is written three times", bar + offset);
        }
    }

    /// Writes one bar anew.
    pub fn rewrite(&mut self, staff: Staff, bar: usize, text: &str) {
        self.cells[bar - 1][staff] = Cell::default();
        self.put(staff, bar, text);
    }

    /// The same phrase on several staves.
    pub fn put_all(&mut self, staves: &[Staff], bar: usize, text: &str) {
        for &staff in staves {
            self.put(staff, bar, text);
        }
    }

    /// One bar of texture for each chord: `@0`, `@1` .. are the chord's tones upwards from `base`, `@R` its root.
    pub fn fill(&mut self, staff: Staff, bar: usize, chords: &str, base: &str, pattern: &str) {
        let base = Pitch::parse(base).expect("a base pitch");
        for (offset, chord) in chords.split_whitespace().enumerate() {
            let mut text = pattern.replace("@R", &chord_root(chord, base).name());
            for (index, tone) in chord_tones(chord, base).iter().enumerate().take(10) {
                text = text.replace(&format!("@{index}"), &tone.name());
            }
            self.put(staff, bar + offset, &text);
        }
    }

    /// A direction, written as between a phrase's braces, at a quarter of a bar (from 0) on several staves.
    pub fn mark(&mut self, staves: &[Staff], bar: usize, quarter: u32, what: &str) {
        self.mark_placed(staves, bar, quarter, what, Place::default());
    }

    pub fn mark_placed(&mut self, staves: &[Staff], bar: usize, quarter: u32, what: &str, place: Place) {
        for &staff in staves {
            let placed = Placed { at: quarter * QUARTER, what: phrase::direction(what), place };
            self.cells[bar - 1][staff].directions.push(placed);
        }
    }

    /// A hairpin from one place (bar, quarter) to another.
    pub fn hairpin(&mut self, staves: &[Staff], from: (usize, u32), to: (usize, u32), shape: &str) {
        self.mark(staves, from.0, from.1, shape);
        self.mark(staves, to.0, to.1, "/");
    }
}
