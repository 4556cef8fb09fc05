//! Names for bars and staves that outlive the pages: movement and bar within it, printed name and ordinal.

use super::Score;
use crate::place::{BarIdx, BarSpan, StaffId};

impl Score {
    /// Movement (counted from 1) and bar within it (counted from 0).
    #[must_use]
    pub fn anchor(&self, bar: BarIdx) -> Option<(u32, u32)> {
        let at = self.movements.iter().position(|movement| movement.bars.contains(bar))?;
        let first = self.movements.get(at)?.bars.first;
        Some((u32::try_from(at).ok()?.checked_add(1)?, bar.0 - first.0))
    }

    /// The bar of an [`Score::anchor`]; `None` when the movement or the bar is not there.
    #[must_use]
    pub fn bar_at(&self, (movement, bar): (u32, u32)) -> Option<BarIdx> {
        let movement = self.movements.get(usize::try_from(movement.checked_sub(1)?).ok()?)?;
        let at = BarIdx(movement.bars.first.0.checked_add(bar)?);
        movement.bars.contains(at).then_some(at)
    }

    /// Printed name of a staff's part, and which staff it is of all that bear this name: "Piano, staff 2".
    #[must_use]
    pub fn staff_key(&self, staff: StaffId) -> String {
        let name = |id: usize| {
            let part = self.staves.get(id).and_then(|staff| self.parts.get(staff.part.at()));
            part.map_or("", |part| part.name.as_str()).split_whitespace().collect::<Vec<_>>().join(" ")
        };
        let own = name(staff.at());
        let ordinal = (0..staff.at()).filter(|other| name(*other) == own).count() + 1;
        format!("{own}, staff {ordinal}")
    }

    /// The printed number of a bar, with its movement where there are several: "174", "II 46".
    #[must_use]
    pub fn place_label(&self, bar: BarIdx) -> String {
        const NUMERALS: [&str; 12] = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"];
        let printed = self.label(bar);
        let movement = self.anchor(bar).filter(|_| self.movements.len() > 1).map(|(movement, _)| movement);
        match movement {
            None => printed.to_owned(),
            Some(number) => match NUMERALS.get(number.saturating_sub(1) as usize) {
                Some(numeral) => format!("{numeral} {printed}"),
                None => format!("{number}, {printed}"),
            },
        }
    }

    /// "bars 12 to 40", "bar 12", "bars I 61 to II 2".
    #[must_use]
    pub fn span_label(&self, span: BarSpan) -> String {
        if span.first == span.last {
            return format!("bar {}", self.place_label(span.first));
        }
        let last = match (self.anchor(span.first), self.anchor(span.last)) {
            (Some((one, _)), Some((other, _))) if one == other => self.label(span.last).to_owned(),
            _ => self.place_label(span.last),
        };
        format!("bars {} to {last}", self.place_label(span.first))
    }
}
