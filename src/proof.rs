//! A player's part held against the player's line in the score, bar by bar, at sounding pitch.
//!
//! What differs is told as the player meets it, the least number of lines for one fault; what is the same to the
//! player (another spelling, a tie instead of a longer note) is no difference, and what a shared staff leaves open is
//! told as such.

use crate::guidelines::Weight;
use crate::place::{BarIdx, BarSpan};
use crate::players::Player;
use crate::score::Score;
use crate::units::Fraction;

mod bars;
mod cues;
mod frame;
mod hairpins;
mod heard;
mod join;
mod notes;
mod numbers;
mod open;
mod pauses;
mod rests;
mod side;
mod signs;
mod spelling;
mod texts;
pub mod whose;
mod words;

#[cfg(test)]
mod tests;

pub(crate) use words::beat_number;

/// What a part is held against.
#[derive(Clone, Copy, Debug)]
pub struct Line<'a> {
    /// The full score.
    pub score: &'a Score,
    pub player: &'a Player,
    /// The bars of the score that the part should hold.
    pub bars: BarSpan,
}

/// What came of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Proof {
    /// What stops a rehearsal first; among equals in order of bars.
    pub differences: Vec<Difference>,
    /// Where a shared staff leaves open who plays, and the part is one that it allows.
    pub cannot_tell: Vec<Told>,
    /// Written otherwise, and the same to the player.
    pub same: Vec<Told>,
    /// Bars that were held against each other.
    pub bars: u32,
    /// Notes of the score in them.
    pub notes: u32,
    /// Bars of the score in which the player has notes, and how many of them have the same notes in the part.
    pub playing: (u32, u32),
}

/// One fault of the part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    pub class: Class,
    /// In the score; for bars that only the part has, the one before them.
    pub bars: BarSpan,
    /// In the part's own file, counted from 0; `None` where the part lacks them.
    pub part_bars: Option<BarSpan>,
    /// From the start of the first bar, in quarters; `None` where it is about whole bars.
    pub onset: Option<Fraction>,
    /// What the score has, and what the part has, in words of the player.
    pub score: String,
    pub part: String,
}

/// A passage with something to say about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    pub bars: BarSpan,
    pub what: String,
}

/// What a difference is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    MissingBars,
    ExtraBars,
    RestCount,
    RestAcrossLandmark,
    Landmark,
    BarNumbers,
    Repeat,
    Metre,
    Key,
    /// Several bars of other notes, or all of them so much higher or lower.
    Passage,
    Pitch,
    Length,
    Place,
    MissingNote,
    ExtraNote,
    Tie,
    Tempo,
    Pause,
    Dynamic,
    Hairpin,
    Words,
    Ornament,
    Cue,
    Articulation,
    Slur,
    Barline,
    SungText,
}

impl Class {
    pub const ALL: [Class; 27] = [
        Class::MissingBars,
        Class::ExtraBars,
        Class::RestCount,
        Class::RestAcrossLandmark,
        Class::Landmark,
        Class::BarNumbers,
        Class::Repeat,
        Class::Metre,
        Class::Key,
        Class::Passage,
        Class::Pitch,
        Class::Length,
        Class::Place,
        Class::MissingNote,
        Class::ExtraNote,
        Class::Tie,
        Class::Tempo,
        Class::Pause,
        Class::Dynamic,
        Class::Hairpin,
        Class::Words,
        Class::Ornament,
        Class::Cue,
        Class::Articulation,
        Class::Slur,
        Class::Barline,
        Class::SungText,
    ];

    /// What it does to a rehearsal. Common practice.
    #[must_use]
    pub fn weight(self) -> Weight {
        if self <= Class::ExtraNote {
            Weight::Stop
        } else if self <= Class::Cue {
            Weight::Mend
        } else {
            Weight::Look
        }
    }

    /// Its name in the published JSON.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Class::MissingBars => "missing-bars",
            Class::ExtraBars => "extra-bars",
            Class::RestCount => "rest-count",
            Class::RestAcrossLandmark => "rest-across-landmark",
            Class::Landmark => "landmark",
            Class::BarNumbers => "bar-numbers",
            Class::Repeat => "repeat",
            Class::Metre => "metre",
            Class::Key => "key",
            Class::Passage => "passage",
            Class::Pitch => "pitch",
            Class::Length => "length",
            Class::Place => "place",
            Class::MissingNote => "missing-note",
            Class::ExtraNote => "extra-note",
            Class::Tie => "tie",
            Class::Tempo => "tempo",
            Class::Pause => "pause",
            Class::Dynamic => "dynamic",
            Class::Hairpin => "hairpin",
            Class::Words => "words",
            Class::Ornament => "ornament",
            Class::Cue => "cue",
            Class::Articulation => "articulation",
            Class::Slur => "slur",
            Class::Barline => "barline",
            Class::SungText => "sung-text",
        }
    }

    /// As a librarian says it.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Class::MissingBars => "bars missing",
            Class::ExtraBars => "bars too many",
            Class::RestCount => "rest counted wrong",
            Class::RestAcrossLandmark => "rest across a landmark",
            Class::Landmark => "landmark",
            Class::BarNumbers => "bar numbers",
            Class::Repeat => "repeat",
            Class::Metre => "metre",
            Class::Key => "key",
            Class::Passage => "passage",
            Class::Pitch => "pitch",
            Class::Length => "length",
            Class::Place => "place in the bar",
            Class::MissingNote => "note missing",
            Class::ExtraNote => "note too many",
            Class::Tie => "tie",
            Class::Tempo => "tempo",
            Class::Pause => "pause",
            Class::Dynamic => "dynamic",
            Class::Hairpin => "hairpin",
            Class::Words => "words",
            Class::Ornament => "ornament",
            Class::Cue => "cue",
            Class::Articulation => "articulation",
            Class::Slur => "slur",
            Class::Barline => "barline",
            Class::SungText => "sung text",
        }
    }
}

impl Difference {
    #[must_use]
    pub fn weight(&self) -> Weight {
        self.class.weight()
    }

    /// Where it begins.
    fn at(&self) -> (BarIdx, Option<Fraction>) {
        (self.bars.first, self.onset)
    }
}

/// Holds a part against a line of the score.
#[must_use]
pub fn proof(line: &Line<'_>, part: &Score) -> Proof {
    let both = side::Both::of(line, part);
    let mut found = Proof::default();
    let pairs = bars::compare(&both, &mut found);
    rests::compare(&both, &pairs, &mut found);
    frame::compare(&both, &pairs, &mut found);
    numbers::compare(&both, &pairs, &mut found);
    notes::compare(&both, &pairs, &mut found);
    spelling::compare(&both, &pairs, &mut found);
    texts::compare(&both, &pairs, &mut found);
    pauses::compare(&both, &pairs, &mut found);
    hairpins::compare(&both, &pairs, &mut found);
    signs::compare(&both, &pairs, &mut found);
    cues::compare(&both, &pairs, &mut found);
    join::join(&mut found);
    found
        .differences
        .sort_by_key(|difference| (std::cmp::Reverse(difference.weight()), difference.at(), difference.class));
    found
}
