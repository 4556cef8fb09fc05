//! Who plays when: rows are players in score order, columns stretches between landmarks, width is time.

use crate::place::{BarIdx, BarSpan, PartId};
use crate::units::Seconds;

/// The whole work along its time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Timeline {
    pub stretches: Vec<Stretch>,
    /// In order of time.
    pub landmarks: Vec<Landmark>,
    /// Per part in score order: the passages that it plays, joined over rests shorter than a bar.
    pub plays: Vec<(PartId, Vec<BarSpan>)>,
}

/// The music between two neighbouring landmarks.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    pub bars: BarSpan,
    /// From the beginning of the work, played straight through.
    pub starts: Seconds,
    pub seconds: Seconds,
}

/// What the ear or the eye finds its way by.
#[derive(Clone, Debug, PartialEq)]
pub struct Landmark {
    pub bar: BarIdx,
    pub starts: Seconds,
    /// "C", when a rehearsal mark stands here.
    pub rehearsal: Option<String>,
    /// "Allegro", when a tempo word or mark stands here.
    pub tempo: Option<String>,
    /// "3/4", when the metre changes.
    pub metre: Option<String>,
    /// A movement begins.
    pub movement: Option<String>,
}
