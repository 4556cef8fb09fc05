//! Names for bars and staves that outlive the pages: movement and bar within it, printed name and ordinal.

use super::Score;
use crate::place::{BarIdx, StaffId};

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
}
