//! Lengths, times and note values, each a type of its own, so that none is taken for another.
//!
//! Lengths on paper are [`Mm`]; [`Spaces`] (the distance between two staff lines) become millimetres only
//! through the staff at hand; note values are exact [`Fraction`]s of a quarter note; [`Seconds`] come only
//! from the tempo map.

use std::fmt;
use std::ops::{Add, Div, Mul, Neg, Sub};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

mod fraction;

pub use fraction::Fraction;

/// Writes a length-like newtype: arithmetic with itself, scaling by a plain number, ordering.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema)]
        #[serde(transparent)]
        pub struct $name(pub f64);

        impl $name {
            pub const ZERO: Self = Self(0.0);
            pub fn max(self, other: Self) -> Self { Self(self.0.max(other.0)) }
            pub fn min(self, other: Self) -> Self { Self(self.0.min(other.0)) }
            pub fn abs(self) -> Self { Self(self.0.abs()) }
        }
        impl Add for $name { type Output = Self; fn add(self, other: Self) -> Self { Self(self.0 + other.0) } }
        impl Sub for $name { type Output = Self; fn sub(self, other: Self) -> Self { Self(self.0 - other.0) } }
        impl Neg for $name { type Output = Self; fn neg(self) -> Self { Self(-self.0) } }
        impl Mul<f64> for $name { type Output = Self; fn mul(self, by: f64) -> Self { Self(self.0 * by) } }
        impl Div<f64> for $name { type Output = Self; fn div(self, by: f64) -> Self { Self(self.0 / by) } }
        impl Div for $name { type Output = f64; fn div(self, other: Self) -> f64 { self.0 / other.0 } }
        impl std::ops::AddAssign for $name { fn add_assign(&mut self, other: Self) { self.0 += other.0; } }
        impl std::iter::Sum for $name { fn sum<I: Iterator<Item = Self>>(items: I) -> Self { Self(items.map(|q| q.0).sum()) } }
    };
}

quantity!(
    /// Millimetres on paper; y grows downwards from the page's top edge, x rightwards from its left edge.
    Mm
);
quantity!(
    /// Staff spaces: the distance between two neighbouring staff lines, a quarter of a five-line staff's height.
    Spaces
);
quantity!(
    /// Seconds of performance, from the tempo map only.
    Seconds
);

impl Mm {
    /// One inch.
    pub const INCH: Mm = Mm(25.4);

    /// Rounded to a thousandth of a millimetre, the resolution of everything that is compared or written.
    #[must_use]
    pub fn rounded(self) -> Mm {
        let rounded = (self.0 * 1000.0).round() / 1000.0;
        Mm(if rounded == 0.0 { 0.0 } else { rounded })
    }

    /// For gaps and pages: nobody sets or cuts a hundredth of a millimetre.
    #[must_use]
    pub fn in_tenths(self) -> Mm {
        Mm((self.0 * 10.0).round() / 10.0)
    }

    /// This length in spaces of a five-line staff `staff_height` high.
    #[must_use]
    pub fn in_spaces(self, staff_height: Mm) -> Spaces {
        Spaces(self.0 * 4.0 / staff_height.0)
    }
}

impl Seconds {
    /// As a clock shows them, in minutes and seconds: "0:00", "11:40".
    #[must_use]
    pub fn clock(self) -> String {
        let whole = self.0.max(0.0).round() as u64;
        format!("{}:{:02}", whole / 60, whole % 60)
    }
}

impl Spaces {
    /// This length on a five-line staff `staff_height` high.
    #[must_use]
    pub fn on_staff(self, staff_height: Mm) -> Mm {
        Mm(self.0 * staff_height.0 / 4.0)
    }
}

/// At most two decimals, none that say nothing: "4", "4.5", "3.76 mm".
fn trimmed(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

impl fmt::Display for Mm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", trimmed(self.0))
    }
}

impl fmt::Display for Spaces {
    /// One decimal: nobody sees a hundredth of a space.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} spaces", trimmed((self.0 * 10.0).round() / 10.0))
    }
}

impl fmt::Display for Seconds {
    /// Whole seconds below two minutes ("about 4 s" is the caller's), then minutes: "8 s", "11'40\"".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let whole = self.0.round() as i64;
        if whole < 60 { write!(f, "{whole} s") } else { write!(f, "{}'{:02}\"", whole / 60, whole % 60) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_space_is_a_quarter_of_a_five_line_staff() {
        assert_eq!(Spaces(4.0).on_staff(Mm(7.0)), Mm(7.0));
        assert_eq!(Mm(3.5).in_spaces(Mm(7.0)), Spaces(2.0));
    }

    #[test]
    fn lengths_are_written_without_decimals_that_say_nothing() {
        assert_eq!(Mm(4.0).to_string(), "4 mm");
        assert_eq!(Mm(3.759).to_string(), "3.76 mm");
        assert_eq!(Mm(-0.001).to_string(), "0 mm");
        assert_eq!(Mm(12.07).in_tenths().to_string(), "12.1 mm");
        assert_eq!(Spaces(3.04).to_string(), "3 spaces");
    }

    #[test]
    fn durations_read_as_on_a_programme() {
        assert_eq!(Seconds(8.4).to_string(), "8 s");
        assert_eq!(Seconds(700.0).to_string(), "11'40\"");
        assert_eq!(Seconds(700.0).clock(), "11:40");
        assert_eq!(Seconds(-0.2).clock(), "0:00");
    }

    #[test]
    fn rounding_never_leaves_a_negative_zero() {
        assert!(Mm(-0.0001).rounded().0.is_sign_positive());
    }
}
