//! Pages of sizes that the house does not use.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::paper::Paper;
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::units::Mm;
use crate::words::listed;

/// How far a page may be from the papers that the house expects.
pub(in crate::rules) struct UnusualPageSize {
    tolerance: Limit<Mm>,
    score_papers: Limit<Vec<Paper>>,
    part_papers: Limit<Vec<Paper>>,
}

impl Rule for UnusualPageSize {
    const NAME: &'static str = "unusual-page-size";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        let house = guidelines.house();
        guidelines.read(Self::NAME, |limits| {
            Ok(UnusualPageSize {
                tolerance: limits.take("tolerance")?,
                score_papers: house.score_papers.clone(),
                part_papers: house.part_papers.clone(),
            })
        })
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.told_sizes().next().is_none() {
            return Outcome::CouldNotRun("a recorded page size".to_owned());
        }
        let papers = case.limit(&self.score_papers, &self.part_papers);
        let is_usual = |size: (Mm, Mm)| {
            papers.value.iter().any(|paper| paper.difference(size.0, size.1).rounded() <= self.tolerance.value)
        };
        let unusual: Vec<(PageIdx, (Mm, Mm))> = case.told_sizes().filter(|(_, size)| !is_usual(*size)).collect();
        let Some((_, (width, height))) = unusual.first().copied() else { return Outcome::Ran(Vec::new()) };
        let pages: Vec<PageIdx> = unusual.iter().map(|(page, _)| *page).collect();
        let known = Paper::nearest(width, height, self.tolerance.value);
        let name = known.map_or_else(|| "a size of no paper sold".to_owned(), |nearest| nearest.paper.name.to_string());
        let sheet = format!("{} x {}", width.in_tenths().0, height.in_tenths());
        let verb = if pages.len() == 1 { "is" } else { "are" };
        let message = format!("{} {verb} {sheet}, {name}.", case.pages_words(&pages));
        let finding = Finding::beyond(&self.tolerance, case.key(Self::NAME, Scope::Work, None, None), sheet)
            .asks(listed(papers.value.iter().map(|paper| paper.name.to_string())))
            .at(case.on_pages(&pages))
            .says(message);
        Outcome::Ran(vec![Finding { source: papers.source.to_string(), ..finding }])
    }
}
