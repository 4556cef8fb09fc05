//! When things happen: places in the music as seconds from its beginning.

use crate::place::BarIdx;
use crate::score::Score;
use crate::units::{Fraction, Seconds};

/// The time of every bar.
#[derive(Clone, Debug, PartialEq)]
pub struct Clock {
    /// When each bar begins, and the end of the last one. A bar whose time is not known counts as none.
    starts: Vec<f64>,
    /// Bars before whose time is not known; one longer than the bars.
    unknown: Vec<u32>,
    /// Length of each bar in quarters and in seconds.
    lengths: Vec<(f64, f64)>,
}

/// A place in the music.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Moment {
    pub bar: BarIdx,
    /// From the beginning of the work.
    pub at: Seconds,
}

impl Clock {
    #[must_use]
    pub fn of(score: &Score) -> Clock {
        let mut clock = Clock { starts: vec![0.0], unknown: vec![0], lengths: Vec::with_capacity(score.bars.len()) };
        let (mut now, mut unknown) = (0.0, 0);
        for bar in &score.bars {
            let seconds = bar.seconds.map_or(0.0, |seconds| seconds.0);
            now += seconds;
            unknown += u32::from(bar.seconds.is_none());
            clock.starts.push(now);
            clock.unknown.push(unknown);
            clock.lengths.push((bar.length.to_f64(), seconds));
        }
        clock
    }

    /// The moment so many quarters into a bar.
    #[must_use]
    pub fn at(&self, bar: BarIdx, onset: Fraction) -> Moment {
        let (quarters, seconds) = self.lengths.get(bar.at()).copied().unwrap_or_default();
        let share = if quarters > 0.0 { (onset.to_f64() / quarters).clamp(0.0, 1.0) } else { 0.0 };
        Moment { bar, at: Seconds(self.start(bar) + share * seconds) }
    }

    /// The barline that ends a bar.
    #[must_use]
    pub fn end_of(&self, bar: BarIdx) -> Moment {
        Moment { bar, at: Seconds(self.start(BarIdx(bar.0.saturating_add(1)))) }
    }

    /// From one moment to a later one, never negative; `None` where a bar from the one's to the other's has no time.
    #[must_use]
    pub fn between(&self, from: Moment, to: Moment) -> Option<Seconds> {
        let before = |at: usize| self.unknown.get(at.min(self.unknown.len().saturating_sub(1))).copied().unwrap_or(0);
        let unknown = before(to.bar.at() + 1) > before(from.bar.at());
        (!unknown).then(|| (to.at - from.at).max(Seconds::ZERO))
    }

    fn start(&self, bar: BarIdx) -> f64 {
        self.starts.get(bar.at()).or(self.starts.last()).copied().unwrap_or_default()
    }
}
