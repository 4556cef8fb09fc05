//! rastrum tells, before anything is printed, whether a conductor can follow the score and whether every
//! player can read, turn and play from the part.

pub mod geometry;
pub mod guidelines;
pub mod paper;
pub mod units;
