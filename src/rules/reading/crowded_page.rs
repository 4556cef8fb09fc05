//! Pages with more to read than eyes can take in.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::{BarIdx, PageIdx, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Signs for every hundred staff spaces, at the dense end of the page.
pub(in crate::rules) struct CrowdedPage {
    symbols: Limit<u32>,
}

impl Rule for CrowdedPage {
    const NAME: &'static str = "crowded-page";

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(CrowdedPage { symbols: limits.take("symbols")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if case.told_systems().next().is_none() {
            return Outcome::CouldNotRun("recorded systems and bar widths".to_owned());
        }
        let crowded: Vec<(PageIdx, u32)> =
            case.told_densities().filter(|(_, density)| *density > self.symbols.value).collect();
        let worst = crowded.iter().max_by_key(|(page, density)| (*density, std::cmp::Reverse(page.0)));
        let Some((page, most)) = worst.copied() else { return Outcome::Ran(Vec::new()) };
        let bar = densest_bar(case, page);
        let at = bar.map_or_else(String::new, |bar| format!(", most at {}", case.bar_words(bar)));
        let others = match crowded.len() - 1 {
            0 => String::new(),
            1 => " One more page is crowded.".to_owned(),
            more => format!(" {more} more pages are crowded."),
        };
        let place = |(page, most): &(PageIdx, u32)| {
            case.on_page(*page).with_words(format!("{most} signs on every hundred staff spaces."), "")
        };
        let message = format!("{}: {most} signs on every hundred staff spaces{at}.{others}", case.page_words(page));
        let finding =
            Finding::beyond(&self.symbols, case.key(Self::NAME, Scope::Page, None, bar), format!("{most} signs"))
                .asks(format!("at most {} signs", self.symbols.value))
                .at(crowded.iter().map(place).collect())
                .worst_at(crowded.iter().position(|(own, _)| *own == page))
                .says(message);
        Outcome::Ran(vec![finding])
    }
}

impl<'a> Case<'a> {
    /// Pages whose bars the document tells, with their density to the whole sign.
    pub(super) fn told_densities(&self) -> impl Iterator<Item = (PageIdx, u32)> + use<'a> {
        let case = *self;
        let told = case.survey.pages.iter().filter_map(|own| Some((own.page, own.density?.round() as u32)));
        told.filter(move |(page, _)| case.tells_bars(*page))
    }
}

fn densest_bar(case: &Case<'_>, page: PageIdx) -> Option<BarIdx> {
    let bars = case.page(page)?.span()?.iter();
    let staves = case.score.staves.len();
    let density = |bar: BarIdx| {
        let ids = (0..staves).filter_map(|at| u16::try_from(at).ok()).map(StaffId);
        ids.filter_map(|staff| case.survey.density.cell(bar, staff).per_100_spaces).fold(0.0, f32::max)
    };
    bars.map(|bar| (bar, density(bar))).reduce(|most, one| if one.1 > most.1 { one } else { most }).map(|(bar, _)| bar)
}
