//! Where the written bar stands in time, with the steps that lead from one place to another.

use crate::units::Fraction;

/// A bar as it is written.
pub(super) struct Pen<'a> {
    pub out: String,
    /// White space before each element.
    pub space: &'a str,
    /// Of a quarter.
    pub divisions: i64,
    /// Quarters since the bar began.
    at: Fraction,
}

impl<'a> Pen<'a> {
    pub fn new(divisions: i64) -> Pen<'a> {
        Pen { out: String::new(), space: "", divisions, at: Fraction::ZERO }
    }

    pub fn write(&mut self, text: &str) {
        self.out.push_str(self.space);
        self.out.push_str(text);
    }

    /// Steps to a place in the bar.
    pub fn go_to(&mut self, onset: Fraction) {
        let step = |name: &str, by: Option<Fraction>| {
            let ticks = self.ticks(by.unwrap_or(Fraction::ZERO));
            format!("<{name}><duration>{ticks}</duration></{name}>")
        };
        let text = match self.at.cmp(&onset) {
            std::cmp::Ordering::Equal => return,
            std::cmp::Ordering::Less => step("forward", onset.checked_sub(self.at)),
            std::cmp::Ordering::Greater => step("backup", self.at.checked_sub(onset)),
        };
        self.write(&text);
        self.at = onset;
    }

    /// What was written takes this long.
    pub fn took(&mut self, length: Fraction) {
        self.at = self.at.checked_add(length).unwrap_or(self.at);
    }

    /// A length in divisions, as a decimal number where it is not a whole one.
    pub fn ticks(&self, length: Fraction) -> String {
        let ticks = length.checked_mul(Fraction::whole(self.divisions)).unwrap_or(Fraction::ZERO);
        if ticks.den() == 1 { ticks.num().to_string() } else { format!("{:.6}", ticks.to_f64()) }
    }
}
