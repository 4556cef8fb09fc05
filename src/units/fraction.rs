//! Exact note values. Every operation is checked: music whose arithmetic overflows is refused when read.

use std::cmp::Ordering;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// An exact fraction in lowest terms with a positive denominator; as a duration, in quarter notes.
///
/// Serialised as text, `"7/2"` or `"4"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Fraction {
    num: i64,
    den: i64,
}

impl Fraction {
    pub const ZERO: Fraction = Fraction { num: 0, den: 1 };
    pub const ONE: Fraction = Fraction { num: 1, den: 1 };

    /// `num / den` in lowest terms; `None` when `den` is 0 or the terms do not fit.
    #[must_use]
    pub fn new(num: i64, den: i64) -> Option<Fraction> {
        Self::reduce(i128::from(num), i128::from(den))
    }

    /// A whole number of quarters.
    #[must_use]
    pub const fn whole(num: i64) -> Fraction {
        Fraction { num, den: 1 }
    }

    fn reduce(num: i128, den: i128) -> Option<Fraction> {
        if den == 0 {
            return None;
        }
        let divisor = gcd(num.unsigned_abs(), den.unsigned_abs()).max(1);
        let divisor = i128::try_from(divisor).ok()? * den.signum();
        Some(Fraction { num: i64::try_from(num / divisor).ok()?, den: i64::try_from(den / divisor).ok()? })
    }

    #[must_use]
    pub fn num(self) -> i64 {
        self.num
    }

    #[must_use]
    pub fn den(self) -> i64 {
        self.den
    }

    #[must_use]
    pub fn is_zero(self) -> bool {
        self.num == 0
    }

    /// `None` on overflow, as for the other operations.
    #[must_use]
    pub fn checked_add(self, other: Fraction) -> Option<Fraction> {
        if self.den == other.den {
            return Self::reduce(i128::from(self.num) + i128::from(other.num), i128::from(self.den));
        }
        let (a, b) = (i128::from(self.num), i128::from(other.num));
        let (c, d) = (i128::from(self.den), i128::from(other.den));
        Self::reduce(a * d + b * c, c * d)
    }

    #[must_use]
    pub fn checked_sub(self, other: Fraction) -> Option<Fraction> {
        self.checked_add(Fraction { num: other.num.checked_neg()?, den: other.den })
    }

    #[must_use]
    pub fn checked_mul(self, other: Fraction) -> Option<Fraction> {
        Self::reduce(i128::from(self.num) * i128::from(other.num), i128::from(self.den) * i128::from(other.den))
    }

    #[must_use]
    pub fn checked_div(self, other: Fraction) -> Option<Fraction> {
        Self::reduce(i128::from(self.num) * i128::from(other.den), i128::from(self.den) * i128::from(other.num))
    }

    /// Nearest floating value, for widths and seconds only, never for comparing places.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        self.num as f64 / self.den as f64
    }
}

fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

impl Default for Fraction {
    fn default() -> Self {
        Self::ZERO
    }
}

impl PartialOrd for Fraction {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Fraction {
    fn cmp(&self, other: &Self) -> Ordering {
        (i128::from(self.num) * i128::from(other.den)).cmp(&(i128::from(other.num) * i128::from(self.den)))
    }
}

impl fmt::Display for Fraction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.den == 1 { write!(f, "{}", self.num) } else { write!(f, "{}/{}", self.num, self.den) }
    }
}

impl std::str::FromStr for Fraction {
    type Err = &'static str;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        const WANTED: &str = "a fraction such as 7/2";
        let (num, den) = text.split_once('/').unwrap_or((text, "1"));
        let (num, den) = (num.parse().map_err(|_| WANTED)?, den.parse().map_err(|_| WANTED)?);
        Fraction::new(num, den).ok_or(WANTED)
    }
}

impl Serialize for Fraction {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Fraction {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

impl JsonSchema for Fraction {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Fraction".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "pattern": "^-?[0-9]+(/[1-9][0-9]*)?$", "description": "quarters, in lowest terms" })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn f(num: i64, den: i64) -> Fraction {
        Fraction::new(num, den).unwrap()
    }

    #[test]
    fn fractions_are_kept_in_lowest_terms() {
        assert_eq!(f(6, -4).to_string(), "-3/2");
        assert_eq!(f(8, 4).to_string(), "2");
        assert_eq!("7/2".parse(), Ok(f(7, 2)));
    }

    #[test]
    fn overflow_is_seen_and_not_wrapped() {
        assert_eq!(Fraction::whole(i64::MAX).checked_add(Fraction::ONE), None);
        assert_eq!(f(1, i64::MAX).checked_add(f(1, i64::MAX - 1)), None);
        assert_eq!(Fraction::new(1, 0), None);
        assert_eq!(Fraction::ONE.checked_div(Fraction::ZERO), None);
    }

    proptest! {
        #[test]
        fn adding_and_taking_away_comes_back(a in -9999i64..9999, b in 1i64..999, c in -9999i64..9999, d in 1i64..999) {
            let (x, y) = (f(a, b), f(c, d));
            prop_assert_eq!(x.checked_add(y).and_then(|sum| sum.checked_sub(y)), Some(x));
        }

        #[test]
        fn order_agrees_with_the_numbers(a in -9999i64..9999, b in 1i64..999, c in -9999i64..9999, d in 1i64..999) {
            let exact = (a * d).cmp(&(c * b));
            prop_assert_eq!(f(a, b).cmp(&f(c, d)), exact);
        }
    }
}
