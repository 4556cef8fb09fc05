//! Where the reader stands in a bar, in exact quarters.

use crate::units::Fraction;

/// A duration as the file writes it, in divisions of a quarter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ticks {
    Whole(i64),
    /// Allowed by the schema, written by hardly anyone.
    Decimal(Fraction),
}

impl Ticks {
    /// `None` for what is not a number of 0 or more.
    pub fn parse(text: &str) -> Option<Ticks> {
        if let Ok(ticks) = text.parse::<i64>() {
            return (ticks >= 0).then_some(Ticks::Whole(ticks));
        }
        let value = decimal(text)?;
        if value < Fraction::ZERO { None } else { Some(Ticks::Decimal(value)) }
    }
}

/// A decimal number, exactly; `None` when it is no number or too long for exact arithmetic.
pub(super) fn decimal(text: &str) -> Option<Fraction> {
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, text),
    };
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let all_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    if (whole.is_empty() && part.is_empty()) || !all_digits(whole) || !all_digits(part) {
        return None;
    }
    let scale = 10_i64.checked_pow(u32::try_from(part.len()).ok()?)?;
    let whole = if whole.is_empty() { 0 } else { whole.parse::<i64>().ok()? };
    let part = if part.is_empty() { 0 } else { part.parse::<i64>().ok()? };
    Fraction::new(whole.checked_mul(scale)?.checked_add(part)?.checked_mul(sign)?, scale)
}

/// The place in the bar. Counts in whole divisions from the last change of divisions, so that the usual step is one
/// addition of integers.
#[derive(Debug)]
pub(crate) struct Cursor {
    base: Fraction,
    ticks: i64,
    divisions: i64,
    /// The last length asked for: neighbouring notes are mostly equally long.
    last: (i64, Fraction),
}

impl Cursor {
    pub fn new() -> Cursor {
        Cursor { base: Fraction::ZERO, ticks: 0, divisions: 1, last: (0, Fraction::ZERO) }
    }

    pub fn start_bar(&mut self) {
        (self.base, self.ticks) = (Fraction::ZERO, 0);
    }

    /// `divisions` is above 0. `None` on overflow, as everywhere here.
    pub fn set_divisions(&mut self, divisions: i64) -> Option<()> {
        (self.base, self.ticks) = (self.now()?, 0);
        self.divisions = divisions;
        self.last = (0, Fraction::ZERO);
        Some(())
    }

    /// Quarters since the bar began.
    pub fn now(&self) -> Option<Fraction> {
        let since = Fraction::new(self.ticks, self.divisions)?;
        if self.base.is_zero() { Some(since) } else { self.base.checked_add(since) }
    }

    /// A duration in quarters.
    pub fn length(&mut self, ticks: Ticks) -> Option<Fraction> {
        match ticks {
            Ticks::Whole(ticks) if ticks == self.last.0 => Some(self.last.1),
            Ticks::Whole(ticks) => {
                let length = Fraction::new(ticks, self.divisions)?;
                self.last = (ticks, length);
                Some(length)
            }
            Ticks::Decimal(ticks) => ticks.checked_div(Fraction::whole(self.divisions)),
        }
    }

    pub fn advance(&mut self, by: Ticks) -> Option<()> {
        match by {
            Ticks::Whole(ticks) => self.ticks = self.ticks.checked_add(ticks)?,
            Ticks::Decimal(_) => {
                let length = self.length(by)?;
                self.move_by(length)?;
            }
        }
        Some(())
    }

    /// Forward by a length in quarters.
    pub fn move_by(&mut self, length: Fraction) -> Option<()> {
        self.base = self.base.checked_add(length)?;
        Some(())
    }

    /// Back by a duration, to the bar's start at most; tells whether it would have gone further.
    pub fn back(&mut self, by: Ticks) -> Option<bool> {
        match by {
            Ticks::Whole(ticks) => self.ticks = self.ticks.checked_sub(ticks)?,
            Ticks::Decimal(_) => self.base = self.base.checked_sub(self.length(by)?)?,
        }
        let below = self.now()? < Fraction::ZERO;
        if below {
            self.start_bar();
        }
        Some(below)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn divisions_may_change_inside_a_bar() {
        let mut cursor = Cursor::new();
        cursor.set_divisions(2).unwrap();
        cursor.advance(Ticks::Whole(3)).unwrap();
        cursor.set_divisions(480).unwrap();
        cursor.advance(Ticks::Whole(240)).unwrap();
        assert_eq!(cursor.now(), Some(Fraction::whole(2)));
        assert_eq!(cursor.back(Ticks::Whole(960)), Some(false));
        assert_eq!(cursor.now(), Some(Fraction::ZERO));
        assert_eq!(cursor.back(Ticks::Whole(1)), Some(true));
        assert_eq!(cursor.now(), Some(Fraction::ZERO));
    }

    #[test]
    fn durations_are_numbers_of_0_or_more() {
        assert_eq!(Ticks::parse("12"), Some(Ticks::Whole(12)));
        assert_eq!(Ticks::parse("2.50"), Some(Ticks::Decimal(Fraction::new(5, 2).unwrap())));
        for bad in ["-1", "-0.5", "", ".", "1e3", "inf", "1.00000000000000000000001"] {
            assert_eq!(Ticks::parse(bad), None, "{bad}");
        }
    }

    #[test]
    fn overflow_is_seen() {
        let mut cursor = Cursor::new();
        cursor.advance(Ticks::Whole(i64::MAX)).unwrap();
        assert_eq!(cursor.advance(Ticks::Whole(1)), None);
    }
}
