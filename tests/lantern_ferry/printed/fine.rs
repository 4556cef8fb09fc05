//! How thick lines are, and where a staff's steps stand.

use rastrum::units::Mm;

/// Thickness of lines that belong to one size of staff.
#[derive(Clone, Copy, Debug)]
pub struct Fine {
    pub staff_line: Mm,
    pub barline: Mm,
    pub stem: Mm,
}

/// The size for which the thicknesses are set.
const SCORE_STAFF: Mm = Mm(4.2);

impl Fine {
    /// Larger staves have thicker lines, though not in proportion.
    pub fn of(staff_height: Mm) -> Fine {
        let more = (staff_height - SCORE_STAFF).max(Mm(0.0)) * 0.02;
        Fine { staff_line: Mm(0.13) + more, barline: Mm(0.18) + more, stem: Mm(0.12) + more }
    }
}

/// A staff of five lines.
#[derive(Clone, Copy, Debug)]
pub struct Staff {
    /// Its top line.
    pub top: Mm,
    pub height: Mm,
}

impl Staff {
    pub fn space(self) -> Mm {
        self.height / 4.0
    }

    pub fn bottom(self) -> Mm {
        self.top + self.height
    }

    /// Of a place so many half spaces above the middle line.
    pub fn y(self, half_spaces: i32) -> Mm {
        self.top + self.height / 2.0 - self.space() * (f64::from(half_spaces) / 2.0)
    }
}
