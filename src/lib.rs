//! rastrum tells, before anything is printed, whether a conductor can follow the score and whether every
//! player can read, turn and play from the part.

pub mod casting_off;
pub mod geometry;
pub mod layout;
pub mod limits;
pub mod metrics;
pub mod place;
pub mod read;
pub mod remarks;
pub mod rules;
pub mod score;
pub mod survey;
pub mod units;

#[cfg(test)]
mod fixture;
