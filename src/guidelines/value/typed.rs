//! The types a rule reads its limits as, one for each unit.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Kind, Value, plain};
use crate::paper::Paper;
use crate::units::{Mm, Seconds, Spaces};

/// A share in per cent; 100 is the whole.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct Percent(pub f64);

/// A ratio of two like measurements: 1.2 is "1.2 times".
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct Times(pub f64);

/// The size of printed text in points, 72 to the inch, as word processors and engravers name it.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct Points(pub f64);

/// A unit that a limit can be read as.
pub trait FromValue: Sized {
    const KIND: Kind;

    /// `None` when the value is of another kind.
    fn from_value(value: &Value) -> Option<Self>;
}

impl Percent {
    /// 5 % as the factor 0.05.
    #[must_use]
    pub fn factor(self) -> f64 {
        self.0 / 100.0
    }
}

impl Points {
    #[must_use]
    pub fn in_mm(self) -> Mm {
        Mm::INCH * (self.0 / 72.0)
    }
}

impl fmt::Display for Percent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} %", plain(self.0))
    }
}

impl fmt::Display for Times {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} times", plain(self.0))
    }
}

impl fmt::Display for Points {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} pt", plain(self.0))
    }
}

/// Ties each type to its kind and its variant.
macro_rules! readable {
    ($($type:ty: $kind:ident),+ $(,)?) => {
        $(impl FromValue for $type {
            const KIND: Kind = Kind::$kind;

            fn from_value(value: &Value) -> Option<Self> {
                if let Value::$kind(inner) = value { Some(inner.clone()) } else { None }
            }
        })+
    };
}

readable!(
    Mm: Length,
    Spaces: Spaces,
    Seconds: Time,
    Percent: Percent,
    Times: Times,
    Points: TextSize,
    u32: Count,
    bool: YesNo,
    String: Word,
    Option<Paper>: Paper,
    Vec<Paper>: Papers,
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_read_only_as_its_own_unit() {
        assert_eq!(Mm::from_value(&Value::Length(Mm(4.0))), Some(Mm(4.0)));
        assert_eq!(Spaces::from_value(&Value::Length(Mm(4.0))), None);
    }

    #[test]
    fn seventy_two_points_are_an_inch() {
        assert_eq!(Points(72.0).in_mm(), Mm::INCH);
    }
}
