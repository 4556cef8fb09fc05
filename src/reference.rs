//! Reference layouts: how a house sets its scores, measured on recorded pages, written as a small text file and held
//! beside another score in words.
//!
//! Only what files record, or printed pages show, is measured. An estimate of ours says nothing about a house.

use crate::geometry::Margins;
use crate::units::{Mm, Spaces};

mod compare;
mod error;
mod house;
mod measure;
mod pages;
mod parse;
mod plate;
mod shipped;
mod write;

pub use compare::{Difference, What, differences};
pub use error::ReferenceError;
pub use parse::parse;
pub use plate::{Plate, PlateSystem, beside};
pub use shipped::{named, names};
pub use write::{Regenerate, is_ours, write};

/// How a house sets its scores. What the pages did not tell is `None` or empty.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reference {
    /// Of the work that was measured.
    pub title: String,
    /// Where its pages come from, as whoever measured them said.
    pub source: String,
    pub page: Option<(Mm, Mm)>,
    /// Of right-hand pages.
    pub recto: Option<Margins>,
    /// Of left-hand pages.
    pub verso: Option<Margins>,
    /// Of most five-line staves.
    pub staff_height: Option<Mm>,
    /// Between staves of one family.
    pub inside_families: Option<Spread<Spaces>>,
    pub between_families: Option<Spread<Spaces>>,
    pub between_systems: Option<Spread<Spaces>>,
    /// By number of staves, from few to many; last pages of movements left out.
    pub systems_a_page: Vec<SystemsAPage>,
    pub bars_a_system: Option<Spread<u32>>,
    /// Length of a quarter note set neither tight nor loose; found by calibration, not by measuring pages.
    pub natural_spacing: Option<Spaces>,
    /// Systems leave out staves that are silent.
    pub silent_staves_left_out: Option<bool>,
    pub density: Option<Density>,
    /// Typical pages, one for each number of staves, from few to many.
    pub plates: Vec<Plate>,
}

/// A tenth of what was measured is not above `tight`, half not above `usual`, nine tenths not above `wide`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spread<T> {
    pub tight: T,
    pub usual: T,
    pub wide: T,
}

/// Pages whose fullest system shows this number of staves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SystemsAPage {
    pub staves: u32,
    pub pages: u32,
    pub systems: Spread<u32>,
}

/// Symbols on 100 spaces of sounding staff, a bar of a staff at a time: so many of a hundred hold no more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Density {
    pub half: f64,
    pub three_quarters: f64,
    pub nineteen_in_twenty: f64,
}

impl Reference {
    /// Whether any page told anything.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.page.is_none() && self.staff_height.is_none() && self.systems_a_page.is_empty()
    }
}

#[cfg(test)]
mod tests;
