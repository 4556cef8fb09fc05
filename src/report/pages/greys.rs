//! How much there is to read, in four greys that mean the same on the strip of pages and on the page maps.

use crate::report::pdf::{Grey, Paint};
use crate::survey::Density;

/// Greys, from little to read to much.
pub const CLASSES: usize = 4;

/// Values between the four greys: a quarter of all sounding bars of all staves lies in each.
///
/// No published norm says how much is much, so that a work is told by itself alone.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Quarters([f32; CLASSES - 1]);

impl Quarters {
    #[must_use]
    pub fn of(density: &Density) -> Quarters {
        let mut values: Vec<f32> = density.cells.iter().filter_map(|cell| cell.per_100_spaces).collect();
        values.sort_unstable_by(f32::total_cmp);
        let at = |quarter: usize| values.get(values.len() * quarter / CLASSES).copied().unwrap_or_default();
        Quarters([at(1), at(2), at(3)])
    }

    /// The grey of a value, from 0 (little) to 3 (much).
    #[must_use]
    pub fn class(&self, value: f32) -> usize {
        self.0.iter().filter(|limit| value > **limit).count()
    }
}

/// The grey of a class.
#[must_use]
pub fn tint(class: usize) -> Paint {
    let lightness = [0.93, 0.82, 0.68, 0.52].get(class).copied().unwrap_or(0.52);
    Paint::fill(Grey::new(lightness))
}

/// Lighter than all classes, for pages on which nothing sounds.
#[must_use]
pub fn silent() -> Paint {
    Paint::fill(Grey::new(0.97))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::CellDensity;

    #[test]
    fn a_quarter_of_the_sounding_bars_has_each_grey() {
        let cell = |value: u8| CellDensity { symbols: 0.0, per_100_spaces: Some(f32::from(value)), sounds: true };
        let silent = CellDensity::default();
        let cells = (1..=40).map(cell).chain([silent; 9]).collect();
        let quarters = Quarters::of(&Density { staves: 1, cells });
        let count = |class| (1..=40).filter(|value| quarters.class(*value as f32) == class).count();
        assert_eq!([count(0), count(1), count(2), count(3)], [11, 10, 10, 9]);
    }

    #[test]
    fn a_work_without_notes_has_quarters_all_the_same() {
        assert_eq!(Quarters::of(&Density::default()), Quarters::default());
    }
}
