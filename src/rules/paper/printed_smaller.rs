//! Pages that the printer will shrink until they can no longer be read.

use crate::guidelines::{Guidelines, Mismatch};
use crate::place::PageIdx;
use crate::rules::staves::StaffTooSmall;
use crate::rules::{Case, Finding, Outcome, PrintOn, Rule, Scope};
use crate::units::Mm;

/// The limits are those of staves that are too small.
pub(in crate::rules) struct PrintedSmaller {
    staff: StaffTooSmall,
}

/// The lowest staff of a page as it will be printed.
#[derive(Clone, Copy)]
struct Printed {
    page: PageIdx,
    scale: f64,
    height: Mm,
}

impl Rule for PrintedSmaller {
    const NAME: &'static str = "printed-smaller";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        let staff = StaffTooSmall::with(guidelines)?;
        guidelines.read(Self::NAME, |_| Ok(PrintedSmaller { staff }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let Some(paper) = case.print_on else {
            return Outcome::CouldNotRun("the paper that it will be printed on".to_owned());
        };
        if case.told_sizes().next().is_none() || case.told_staves().next().is_none() {
            return Outcome::CouldNotRun("recorded page sizes and staff heights".to_owned());
        }
        let printed = case.told_sizes().filter_map(|(page, size)| printed(case, page, scale(size, &paper)));
        let small: Vec<Printed> =
            printed.filter(|own| own.scale < 1.0 && self.staff.limit_for(case, own.height).is_some()).collect();
        let worst = small.iter().min_by(|one, other| one.height.0.total_cmp(&other.height.0));
        let finding = worst.and_then(|worst| {
            let limit = self.staff.limit_for(case, worst.height)?;
            let message = format!(
                "Printed on {} the pages shrink to {:.0} %, their staves to {}{}.",
                paper.name,
                worst.scale * 100.0,
                worst.height,
                self.staff.how_it_looks(case, worst.height),
            );
            let pages: Vec<PageIdx> = small.iter().map(|own| own.page).collect();
            let key = case.key(Self::NAME, Scope::Work, None, None);
            Some(Finding::beyond(limit, key, worst.height.to_string()).at(case.on_pages(&pages)).says(message))
        });
        Outcome::Ran(finding.into_iter().collect())
    }
}

fn printed(case: &Case<'_>, page: PageIdx, scale: f64) -> Option<Printed> {
    let heights = case.told_staves().filter(|own| own.page == page).map(|own| own.staff.height);
    Some(Printed { page, scale, height: (heights.reduce(Mm::min)? * scale).rounded() })
}

/// What a printer scales a page by to make it fit; the sheet is turned the way the page lies.
fn scale((width, height): (Mm, Mm), paper: &PrintOn<'_>) -> f64 {
    let (short, long) = (paper.size.0.min(paper.size.1), paper.size.0.max(paper.size.1));
    (short / width.min(height)).min(long / width.max(height))
}
