//! Families that stand as close to each other as the staves within them.

use crate::guidelines::{Guidelines, Limit, Mismatch, Times};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::survey::{Gap, GapKind};

/// Gap between families over gap inside them.
pub(in crate::rules) struct FamiliesNotSeparated {
    family_gap: Limit<Times>,
}

impl Rule for FamiliesNotSeparated {
    const NAME: &'static str = "families-not-separated";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(FamiliesNotSeparated { family_gap: limits.take("family-gap")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let told: Vec<&Gap> = case.told_gaps().collect();
        if told.is_empty() && case.score.staves.len() > 1 {
            return Outcome::CouldNotRun("recorded distances between staves".to_owned());
        }
        let ratios: Vec<(PageIdx, f64)> =
            told.chunk_by(|one, other| one.page == other.page).filter_map(ratio_on_page).collect();
        let narrow: Vec<(PageIdx, f64)> =
            ratios.into_iter().filter(|(_, ratio)| *ratio < self.family_gap.value.0).collect();
        let Some((_, least)) = narrow.iter().copied().min_by(|one, other| one.1.total_cmp(&other.1)) else {
            return Outcome::Ran(Vec::new());
        };
        let pages: Vec<PageIdx> = narrow.iter().map(|(page, _)| *page).collect();
        let message = format!(
            "On {} the gaps between families are {} than those inside them ({least:.2} times as wide).",
            case.pages_words(&pages),
            if least < 0.995 { "narrower" } else { "hardly wider" },
        );
        let key = case.key(Self::NAME, Scope::Work, None, None);
        let finding =
            Finding::beyond(&self.family_gap, key, format!("{least:.2} times")).at(case.on_pages(&pages)).says(message);
        Outcome::Ran(vec![finding])
    }
}

/// The middle gap between families over the middle gap inside them, to three decimals; `None` when the page lacks
/// either.
fn ratio_on_page(gaps: &[&Gap]) -> Option<(PageIdx, f64)> {
    let middle = |kind: GapKind| {
        let mut heights: Vec<f64> = gaps.iter().filter(|gap| gap.kind == kind).map(|gap| gap.height.0).collect();
        heights.sort_by(f64::total_cmp);
        heights.get(heights.len() / 2).copied()
    };
    let (inside, between) = (middle(GapKind::Family)?, middle(GapKind::Families)?);
    let ratio = (inside > 0.0).then(|| (between / inside * 1000.0).round() / 1000.0)?;
    Some((gaps.first()?.page, ratio))
}
