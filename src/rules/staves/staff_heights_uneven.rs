//! Staves that change their height from page to page.

use std::collections::BTreeMap;

use crate::guidelines::{Guidelines, Limit, Mismatch, Percent};
use crate::place::StaffId;
use crate::rules::pages::Standing;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;

/// By how much a staff may grow from one system to another; a small staff throughout (a soloist's) is meant.
pub(in crate::rules) struct StaffHeightsUneven {
    spread: Limit<Percent>,
}

impl Rule for StaffHeightsUneven {
    const NAME: &'static str = "staff-heights-uneven";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(StaffHeightsUneven { spread: limits.take("spread")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.told_staves().next().is_none() {
            return Outcome::CouldNotRun("recorded staff heights".to_owned());
        }
        let mut ranges: BTreeMap<StaffId, (Mm, Mm)> = BTreeMap::new();
        for own in case.told_staves() {
            let (Some(staff), height) = (own.staff.staff, own.staff.height.rounded()) else { continue };
            let range = ranges.entry(staff).or_insert((height, height));
            *range = (range.0.min(height), range.1.max(height));
        }
        let uneven = |(lowest, highest): (Mm, Mm)| highest > (lowest * (1.0 + self.spread.value.factor())).rounded();
        ranges.retain(|_, range| uneven(*range));
        let Some((staff, (lowest, highest))) = ranges.first_key_value() else { return Outcome::Ran(Vec::new()) };
        let is_low = |own: &Standing<'_>| {
            let range = own.staff.staff.and_then(|staff| ranges.get(&staff));
            range.is_some_and(|(lowest, _)| own.staff.height.rounded() == *lowest)
        };
        let low: Vec<Standing<'_>> = case.told_staves().filter(is_low).collect();
        let spread = ((*highest / *lowest - 1.0) * 100.0).ceil();
        let more = match ranges.len() - 1 {
            0 => String::new(),
            more => format!(", and {more} other staves like it"),
        };
        let message =
            format!("{} is {highest} high on some systems and {lowest} on others{more}.", case.staff_words(*staff));
        let key = case.key(Self::NAME, Scope::Work, Some(*staff), None);
        let finding =
            Finding::beyond(&self.spread, key, format!("{spread} %")).at(case.on_standing(&low)).says(message);
        Outcome::Ran(vec![finding])
    }
}
