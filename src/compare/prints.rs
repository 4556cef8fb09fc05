//! What stands in a bar of a staff, told apart by kind, as numbers that can be compared at once.

use std::hash::{Hash, Hasher};

use crate::score::{Cell, Event, EventKind, Grace, MarkKind, Note, Score, Signs, Stem};
use crate::units::Fraction;

/// Kinds of contents that a print has a number of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Of {
    Rhythm,
    /// Pitches as they sound, however they are spelt.
    Pitches,
    /// How they are spelt.
    Spelling,
    Cues,
    Dynamics,
    Words,
    Signs,
    /// That notes are read in; where it is changed, whether before the barline or behind it, counts for nothing.
    Clef,
    /// In force at sounding pitch, where anything is to be read.
    Key,
    /// For which instruments it is written, where anything is to be read.
    Transposition,
    Stems,
    Beams,
    Accidentals,
}

const KINDS: usize = 13;

/// One bar of one staff, or of all staves of a part: one number a kind. Each is the sum over its contents, so that order
/// and numbers of voices count for nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Print {
    sums: [u64; KINDS],
    /// Noteheads that are played.
    pub notes: u32,
}

impl Print {
    pub fn get(&self, of: Of) -> u64 {
        self.sums.get(of as usize).copied().unwrap_or_default()
    }

    fn add(&mut self, of: Of, what: impl Hash) {
        let mut hasher = Mixer(of as u64);
        what.hash(&mut hasher);
        if let Some(sum) = self.sums.get_mut(of as usize) {
            *sum = sum.wrapping_add(hasher.finish());
        }
    }

    pub fn sounds(&self) -> bool {
        self.notes > 0
    }

    /// Staves of one part together; `apart` keeps what stands on one from what stands on another.
    pub fn of_part(staves: impl Iterator<Item = Print>, apart: bool) -> Print {
        let mut all = Print::default();
        for (own, nth) in staves.zip(0_u32..) {
            let turn = if apart { nth * 7 } else { 0 };
            for (sum, add) in all.sums.iter_mut().zip(own.sums) {
                *sum = sum.wrapping_add(add.rotate_left(turn));
            }
            all.notes += own.notes;
        }
        all
    }

    pub fn of(cell: &Cell) -> Print {
        let mut print = Print::default();
        let mut graces: Vec<(Fraction, u16, u32)> = Vec::new();
        let events = cell.events.iter().filter(|event| event.printed);
        for event in events {
            let grace = if event.grace == Grace::No { 0 } else { nth_grace(event, &mut graces) };
            print.event(cell, event, grace);
        }
        for mark in &cell.marks {
            print.mark(mark.onset, &mark.kind);
        }
        if cell.repeats_previous || cell.slashes {
            print.add(Of::Rhythm, ("sign", cell.repeats_previous, cell.slashes));
            print.notes += 1;
        }
        if let Some(sketch) = cell.sketch.and_then(|sketch| sketch.busyness()) {
            print.add(Of::Rhythm, sketch.word());
            print.notes += 1;
        }
        if let Some((first, last)) = read_between(cell) {
            print.add(Of::Clef, cell.clef_at(first));
            let inside = cell.clef_changes.iter().filter(|(onset, _)| (first < *onset) && (*onset <= last));
            inside.for_each(|change| print.add(Of::Clef, change));
            print.add(Of::Key, (i32::from(cell.key.fifths) + cell.transposition.fifths()).rem_euclid(12));
            print.add(Of::Transposition, cell.transposition);
        }
        print
    }

    fn event(&mut self, cell: &Cell, event: &Event, grace: u32) {
        let at = (event.onset, grace);
        let EventKind::Chord(chord) = &event.kind else {
            if event.fermata {
                self.add(Of::Signs, (event.onset, "fermata"));
            }
            return;
        };
        let place = (at, event.length);
        if event.cue {
            chord.iter().for_each(|note| self.add(Of::Cues, (place, pitch(cell, note))));
            return;
        }
        self.notes += chord.len() as u32;
        self.add(Of::Rhythm, place);
        for note in chord {
            let (height, spelling) = pitch(cell, note);
            self.add(Of::Pitches, (at, height));
            self.add(Of::Spelling, (at, height, spelling));
            if note.tie_starts || note.tie_stops {
                self.add(Of::Rhythm, (at, note.tie_starts, note.tie_stops));
            }
            if note.accidental {
                self.add(Of::Accidentals, (at, height));
            }
        }
        if event.stem != Stem::Unknown {
            self.add(Of::Stems, (place, event.stem == Stem::Up, event.stem == Stem::Down));
        }
        if event.beams > 0 {
            self.add(Of::Beams, (at, event.beams));
        }
        if event.signs != Signs::NONE {
            self.add(Of::Signs, (at, event.signs));
        }
        let lines = (event.slurs.starts, event.slurs.stops);
        if lines != (0, 0) {
            self.add(Of::Signs, (at, "slur", lines));
        }
        let plain = (event.tremolo, event.fermata, event.arpeggio, event.grace == Grace::Stroked);
        if plain != (0, false, false, false) {
            self.add(Of::Signs, (at, plain));
        }
        for syllable in &event.lyrics {
            self.add(Of::Words, (at, syllable.verse, &syllable.text));
        }
    }

    fn mark(&mut self, onset: Fraction, kind: &MarkKind) {
        match kind {
            MarkKind::Dynamic(text) => self.add(Of::Dynamics, (onset, text)),
            MarkKind::HairpinStart { opens, .. } => self.add(Of::Dynamics, (onset, "begins", opens)),
            MarkKind::HairpinStop { .. } => self.add(Of::Dynamics, (onset, "ends")),
            MarkKind::Words(text) => self.add(Of::Words, (onset, plain(text))),
            MarkKind::Figures(rows) => self.add(Of::Words, (onset, "figures", rows)),
            MarkKind::ChordSymbol => self.add(Of::Words, (onset, "chord symbol")),
            MarkKind::OctaveLineStart { octaves, .. } => self.add(Of::Signs, (onset, "octave line", octaves)),
            MarkKind::OctaveLineStop { .. } => self.add(Of::Signs, (onset, "octave line ends")),
            MarkKind::PedalStart => self.add(Of::Signs, (onset, "pedal")),
            MarkKind::PedalStop => self.add(Of::Signs, (onset, "pedal ends")),
            MarkKind::LineStart { .. } => self.add(Of::Signs, (onset, "line")),
            MarkKind::LineStop { .. } => self.add(Of::Signs, (onset, "line ends")),
        }
    }
}

/// Numbers of what is hashed, well mixed, so that sums of them are as good as lists; the standard hasher took five times as
/// long.
struct Mixer(u64);

impl Mixer {
    /// The finisher of splitmix64 (Steele, Lea, Flood 2014; public domain).
    fn mixed(word: u64) -> u64 {
        let word = (word ^ (word >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let word = (word ^ (word >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        word ^ (word >> 31)
    }
}

impl Hasher for Mixer {
    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let word = chunk.iter().fold(chunk.len() as u64, |word, byte| (word << 8) ^ u64::from(*byte));
            self.write_u64(word);
        }
    }

    fn write_u64(&mut self, word: u64) {
        self.0 = Mixer::mixed(self.0.wrapping_add(0x9e37_79b9_7f4a_7c15) ^ word);
    }

    fn write_u8(&mut self, word: u8) {
        self.write_u64(u64::from(word));
    }

    fn write_u32(&mut self, word: u32) {
        self.write_u64(u64::from(word));
    }

    fn finish(&self) -> u64 {
        Mixer::mixed(self.0)
    }
}

/// How high a note sounds, in quarter tones, or where it stands on the staff; and which of the seven names it bears.
fn pitch(cell: &Cell, note: &Note) -> (i32, i32) {
    /// Drums are not mistaken for pitches.
    const UNPITCHED: i32 = 1_000_000;
    if note.unpitched {
        return (UNPITCHED + note.pitch.steps(), 0);
    }
    let sounding = cell.transposition.sounding(note.pitch);
    (sounding.quarter_tones(), sounding.steps())
}

/// Onsets of the first and of the last notes to be read; `None` where there are none.
fn read_between(cell: &Cell) -> Option<(Fraction, Fraction)> {
    let is_read = |event: &&Event| event.printed && matches!(event.kind, EventKind::Chord(_));
    let onsets = cell.events.iter().filter(is_read).map(|event| event.onset);
    onsets.fold(None, |between, onset| {
        Some(between.map_or((onset, onset), |(first, last)| (onset.min(first), onset.max(last))))
    })
}

/// Without spaces that only an export differs in.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Grace notes of one voice before one onset are counted.
fn nth_grace(event: &Event, graces: &mut Vec<(Fraction, u16, u32)>) -> u32 {
    match graces.iter_mut().find(|(onset, voice, _)| (*onset, *voice) == (event.onset, event.voice)) {
        Some((.., count)) => {
            *count += 1;
            *count
        }
        None => {
            graces.push((event.onset, event.voice, 1));
            1
        }
    }
}

/// Prints of a whole score.
pub(super) struct Prints {
    staves: usize,
    /// Bar by bar, each bar's staves from the top.
    cells: Vec<Print>,
}

impl Prints {
    pub fn of(score: &Score) -> Prints {
        Prints { staves: score.staves.len(), cells: score.cells.iter().map(Print::of).collect() }
    }

    /// Some neighbouring staves of a bar.
    pub fn at(&self, bar: usize, staves: &std::ops::Range<usize>) -> impl Iterator<Item = Print> {
        let from = bar * self.staves;
        let own = self.cells.get(from + staves.start..from + staves.end).unwrap_or_default();
        own.iter().copied()
    }

    /// Whether anything of a kind is told anywhere on these staves: what a file leaves out everywhere has not changed.
    pub fn tells(&self, of: Of) -> bool {
        self.cells.iter().any(|print| print.get(of) != 0)
    }
}
