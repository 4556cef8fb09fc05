//! When things happen: places in the music as seconds from its beginning.

use crate::place::{BarIdx, BarSpan};
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

    /// From the beginning of the work to that of a bar.
    #[must_use]
    pub fn starts(&self, bar: BarIdx) -> Option<Seconds> {
        self.span_of((BarIdx(0), Fraction::ZERO), (bar, Fraction::ZERO))
    }

    /// How long some bars last.
    #[must_use]
    pub fn of_bars(&self, bars: BarSpan) -> Option<Seconds> {
        self.span_of((bars.first, Fraction::ZERO), (BarIdx(bars.last.0.saturating_add(1)), Fraction::ZERO))
    }

    /// From one place to a later one, each a bar and quarters within it; `None` where a time between is not known, or
    /// the places are none.
    #[must_use]
    pub fn span_of(&self, from: (BarIdx, Fraction), to: (BarIdx, Fraction)) -> Option<Seconds> {
        let before = |at: usize| self.unknown.get(at).copied();
        // A bar that has not begun does not matter.
        let end = to.0.at() + usize::from(!to.1.is_zero());
        let unknown = before(end)? > before(from.0.at())?;
        (!unknown).then(|| (self.at(to.0, to.1).at - self.at(from.0, from.1).at).max(Seconds::ZERO))
    }

    fn start(&self, bar: BarIdx) -> f64 {
        self.starts.get(bar.at()).or(self.starts.last()).copied().unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;

    #[test]
    fn time_runs_within_bars_and_stops_where_it_is_not_known() {
        let mut score = fixture::score(&fixture::QUARTET, 5);
        score.bars[2].seconds = None;
        let clock = Clock::of(&score);
        // Bars of four quarters and two seconds: from the third beat of the first bar to the second of the next.
        let from = (BarIdx(0), Fraction::whole(2));
        assert_eq!(clock.span_of(from, (BarIdx(1), Fraction::ONE)), Some(Seconds(1.5)));
        assert_eq!(clock.span_of(from, (BarIdx(2), Fraction::ZERO)), Some(Seconds(3.0)));
        assert_eq!(clock.span_of(from, (BarIdx(3), Fraction::ZERO)), None);
        assert_eq!(clock.of_bars(BarSpan::new(BarIdx(3), BarIdx(4))), Some(Seconds(4.0)));
        assert_eq!(clock.starts(BarIdx(4)), None);
        assert_eq!(clock.span_of(from, (BarIdx(6), Fraction::ZERO)), None);
    }
}
