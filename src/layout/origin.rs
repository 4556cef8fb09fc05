//! Where a value came from.

use crate::units::Mm;

/// Where a value came from, from the strongest to the weakest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Origin {
    /// The user said so.
    Given,
    /// The file says so.
    Recorded,
    /// Seen on an engraved page, to within this much.
    Measured { within: Mm },
    /// Found by matching pages with music.
    Matched,
    /// Computed, because no source tells.
    Estimated,
}

impl Origin {
    /// On a vector PDF, whose lines are where they are said to be; rounded figures in the file move them a little.
    pub const MEASURED: Origin = Origin::Measured { within: Mm(0.02) };

    fn rank(self) -> u8 {
        match self {
            Origin::Given => 0,
            Origin::Recorded => 1,
            Origin::Measured { .. } => 2,
            Origin::Matched => 3,
            Origin::Estimated => 4,
        }
    }

    /// The weaker of two: what rests on both.
    #[must_use]
    pub fn weaker(self, other: Origin) -> Origin {
        if other.rank() > self.rank() { other } else { self }
    }

    /// The weakest of many; `None` of none.
    #[must_use]
    pub fn weakest(origins: impl IntoIterator<Item = Origin>) -> Option<Origin> {
        origins.into_iter().reduce(Origin::weaker)
    }

    /// "recorded", "estimated" ...: as the published JSON says it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Origin::Given => "given",
            Origin::Recorded => "recorded",
            Origin::Measured { .. } => "measured",
            Origin::Matched => "matched",
            Origin::Estimated => "estimated",
        }
    }
}

/// A value and where it came from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known<T> {
    pub value: T,
    pub origin: Origin,
}

impl<T> Known<T> {
    #[must_use]
    pub fn recorded(value: T) -> Known<T> {
        Known { value, origin: Origin::Recorded }
    }

    /// Seen on an engraved page.
    #[must_use]
    pub fn measured(value: T) -> Known<T> {
        Known { value, origin: Origin::MEASURED }
    }

    #[must_use]
    pub fn estimated(value: T) -> Known<T> {
        Known { value, origin: Origin::Estimated }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_rests_on_a_record_and_an_estimate_is_an_estimate() {
        assert_eq!(Origin::weakest([Origin::Recorded, Origin::Estimated, Origin::Given]), Some(Origin::Estimated));
        assert_eq!(Origin::weakest([]), None);
    }
}
