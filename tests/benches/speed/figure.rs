//! One figure, as it is printed.

use std::error::Error;
use std::fmt;

pub type Outcome<T> = Result<T, Box<dyn Error>>;

/// What was measured, and the most that it should be.
#[derive(Debug)]
pub struct Figure {
    pub name: String,
    pub value: f64,
    pub goal: f64,
    pub unit: &'static str,
    /// What the value was made from, in words: numerator and denominator with their units.
    pub from: String,
}

impl Figure {
    /// Whether the goal is reached; what is not a number reaches none.
    pub fn reached(&self) -> bool {
        self.value <= self.goal
    }
}

impl fmt::Display for Figure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Figure { name, value, goal, unit, from } = self;
        let verdict = if self.reached() { "reached" } else { "MISSED" };
        write!(out, "{name}: {value:.2}{unit} ({from}; goal <= {goal:.2}{unit}, {verdict})")
    }
}

/// The middle of an odd number of values.
pub fn median<T: Copy>(values: &[T], by: impl Fn(T) -> f64) -> Outcome<T> {
    let mut sorted = values.to_vec();
    sorted.sort_by(|one, other| by(*one).total_cmp(&by(*other)));
    sorted.get(sorted.len() / 2).copied().ok_or_else(|| "nothing was measured".into())
}
