//! The tempo map: when each bar begins, and how long the piece lasts with its repeats.

use rastrum::units::Seconds;

use crate::score::{BarHead, Movement, QUARTER, Tempo};

impl Tempo {
    pub fn quarters_a_minute(&self) -> f64 {
        f64::from(self.beats_a_minute) * if self.dotted { 1.5 } else { 1.0 }
    }
}

/// Seconds each bar takes, in the order of the bars on paper.
pub fn of_bars(movement: &Movement) -> Vec<Seconds> {
    let mut speed = 60.0;
    let length = |head: &BarHead| {
        if let Some(tempo) = &head.tempo {
            speed = tempo.quarters_a_minute();
        }
        Seconds(f64::from(head.units()) / f64::from(QUARTER) * 60.0 / speed)
    };
    movement.heads.iter().map(length).collect()
}

/// Bars in the order in which they are played.
pub fn as_played(movement: &Movement) -> Vec<usize> {
    let mut played = Vec::new();
    let mut from = 1;
    for bar in 1..=movement.bars() {
        let head = movement.head(bar);
        if head.repeat_starts {
            from = bar;
        }
        played.push(bar);
        if head.repeat_stops {
            played.extend((from..bar).filter(|&again| movement.head(again).ending.is_none()));
        }
    }
    played
}

/// With repeats, fermatas at their written length.
pub fn total(movement: &Movement) -> Seconds {
    let lengths = of_bars(movement);
    as_played(movement).iter().map(|bar| lengths[bar - 1]).sum()
}
