//! rastrum tells, before anything is printed, whether a conductor can follow the score and whether every
//! player can read, turn and play from the part.

pub mod accepted;
pub mod align;
pub mod annotate;
pub mod casting_off;
pub mod check;
pub mod compare;
pub mod engraved;
pub mod geometry;
pub mod guidelines;
pub mod join;
pub mod layout;
pub mod limits;
pub mod metrics;
pub mod paper;
pub mod place;
pub mod players;
pub mod proof;
pub mod read;
pub mod reference;
pub mod remarks;
pub mod report;
pub mod rules;
pub mod score;
pub mod survey;
pub mod units;
pub mod words;
pub mod write_breaks;
pub mod write_parts;

#[cfg(test)]
mod fixture;
