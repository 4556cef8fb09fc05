//! Staves of one document that are meant to be alike and are not.

use crate::guidelines::{Guidelines, Limit, Mismatch, Percent};
use crate::rules::pages::Standing;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;

/// By how much the highest staff may exceed the lowest; cue staves and ossias do not count.
pub(in crate::rules) struct StaffHeightsUneven {
    spread: Limit<Percent>,
}

impl Rule for StaffHeightsUneven {
    const NAME: &'static str = "staff-heights-uneven";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(StaffHeightsUneven { spread: limits.take("spread")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let heights = || case.told_staves().map(|own| own.staff.height.rounded());
        let (Some(lowest), Some(highest)) = (heights().reduce(Mm::min), heights().reduce(Mm::max)) else {
            return Outcome::CouldNotRun("recorded staff heights".to_owned());
        };
        let ceiling = (lowest * (1.0 + self.spread.value.factor())).rounded();
        if highest <= ceiling {
            return Outcome::Ran(Vec::new());
        }
        let low: Vec<Standing<'_>> = case.told_staves().filter(|own| own.staff.height.rounded() == lowest).collect();
        let staff = low.iter().filter_map(|own| own.staff.staff).min();
        let spread = (highest / lowest - 1.0) * 100.0;
        let key = case.key(Self::NAME, Scope::Work, staff, None);
        let finding = Finding::beyond(&self.spread, key, format!("{spread:.0} %"))
            .at(case.on_standing(&low))
            .says(format!("Staves of full size are between {lowest} and {highest} high."));
        Outcome::Ran(vec![finding])
    }
}
