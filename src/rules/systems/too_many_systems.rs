//! Pages of parts with more systems than the eye keeps apart.

use crate::guidelines::{Guidelines, Limit, Mismatch};
use crate::place::PageIdx;
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Systems on one page of a part: as many as are usual at most, and as many as can be read at all.
pub(in crate::rules) struct TooManySystems {
    usual: Limit<u32>,
    most: Limit<u32>,
}

impl Rule for TooManySystems {
    const NAME: &'static str = "too-many-systems";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines
            .read(Self::NAME, |limits| Ok(TooManySystems { usual: limits.take("usual")?, most: limits.take("most")? }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        if !case.music_pages().any(|(page, _)| case.tells_bars(page)) {
            return Outcome::CouldNotRun("recorded page and system breaks".to_owned());
        }
        let told = case.music_pages().filter(|(page, _)| case.tells_bars(*page));
        let counts: Vec<(PageIdx, usize)> = told.map(|(page, own)| (page, own.systems.len())).collect();
        let beyond = |limit: &Limit<u32>| counts.iter().any(|(_, systems)| *systems > limit.value as usize);
        let Some(limit) = [&self.most, &self.usual].into_iter().find(|limit| beyond(limit)) else {
            return Outcome::Ran(Vec::new());
        };
        let full: Vec<(PageIdx, usize)> =
            counts.iter().copied().filter(|(_, systems)| *systems > limit.value as usize).collect();
        let most = full.iter().map(|(_, systems)| *systems).max().unwrap_or_default();
        let pages: Vec<PageIdx> = full.iter().map(|(page, _)| *page).collect();
        let up_to = if pages.len() > 1 { "up to " } else { "" };
        let place = |(page, systems): &(PageIdx, usize)| {
            case.on_page(*page).with_words(format!("{systems} systems on one page."), "")
        };
        let key = case.key(Self::NAME, Scope::Page, None, None);
        let finding = Finding::beyond(limit, key, format!("{most} systems"))
            .asks(format!("at most {}", limit.value))
            .at(full.iter().map(place).collect())
            .worst_at(full.iter().position(|(_, systems)| *systems == most))
            .says(format!("{up_to}{most} systems on {}.", case.pages_words(&pages)));
        Outcome::Ran(vec![finding])
    }
}
