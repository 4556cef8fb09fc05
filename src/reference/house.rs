//! A reference layout as the habits of a house.

use super::Reference;
use crate::casting_off::{House, Staves};
use crate::metrics::Spacing;
use crate::units::Spaces;

/// Narrower than this no two lines of music are meant to stand apart.
const NARROWEST: Spaces = Spaces(1.0);

impl Reference {
    /// `habits`, with all that these pages told in their place.
    ///
    /// Gaps between systems are the tight ones that were measured, since most others were drawn apart to fill a page.
    #[must_use]
    pub fn house(&self, habits: &House) -> House {
        let at_least = |gap: Spaces| gap.max(NARROWEST);
        let mut house = habits.clone();
        house.paper = self.page.unwrap_or(house.paper);
        house.margins = self.recto.or(self.verso).unwrap_or(house.margins);
        house.staff_height = self.staff_height.unwrap_or(house.staff_height);
        if let Some(gap) = self.inside_families {
            house.staff_gap = at_least(gap.usual);
            house.least_gap = at_least(gap.tight);
        }
        if let Some((inside, between)) = self.inside_families.zip(self.between_families) {
            house.family_factor = (at_least(between.usual) / at_least(inside.usual)).max(1.0);
        }
        house.system_gap = self.between_systems.map_or(house.system_gap, |gap| at_least(gap.tight));
        house.natural_force = self.natural_force().unwrap_or(house.natural_force);
        house.staves = match self.silent_staves_left_out {
            Some(true) => Staves::Playing,
            Some(false) => Staves::Full,
            None => house.staves,
        };
        house
    }

    /// Its natural spacing as a force.
    #[must_use]
    pub fn natural_force(&self) -> Option<f64> {
        self.natural_spacing.filter(|spacing| *spacing > Spaces::ZERO).map(|spacing| spacing / Spacing::QUARTER)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::Spread;

    #[test]
    fn what_was_measured_takes_the_place_of_habits_and_nothing_else_does() {
        let habits = House::default();
        assert_eq!(Reference::default().house(&habits), habits);
        let three =
            |tight, usual, wide| Some(Spread { tight: Spaces(tight), usual: Spaces(usual), wide: Spaces(wide) });
        let theirs = Reference {
            inside_families: three(4.5, 6.0, 8.0),
            between_families: three(6.0, 9.0, 12.0),
            between_systems: three(9.0, 11.0, 18.0),
            natural_spacing: Some(Spaces(4.2)),
            silent_staves_left_out: Some(false),
            ..Reference::default()
        };
        let house = theirs.house(&habits);
        assert_eq!((house.staff_gap, house.least_gap, house.system_gap), (Spaces(6.0), Spaces(4.5), Spaces(9.0)));
        assert_eq!(house.family_factor, 1.5);
        assert!((house.natural_force - 1.2).abs() < 1e-9);
        assert_eq!((house.staves, house.paper), (Staves::Full, habits.paper));
    }

    #[test]
    fn families_that_overlap_make_no_absurd_house() {
        let gap = Some(Spread { tight: Spaces(-3.0), usual: Spaces(-1.0), wide: Spaces(2.0) });
        let theirs =
            Reference { inside_families: gap, between_families: gap, between_systems: gap, ..Reference::default() };
        let house = theirs.house(&House::default());
        assert_eq!((house.staff_gap, house.family_factor, house.system_gap), (NARROWEST, 1.0, NARROWEST));
    }
}
