//! Page numbers that are not in the outer top corner.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::layout::{Page, PageText, Side};
use crate::place::{PageIdx, Place};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};

/// Odd numbers at the right, even ones at the left, at the top; the first page may do as it likes.
pub(in crate::rules) struct PageNumberMisplaced {
    weight: Weight,
}

impl Rule for PageNumberMisplaced {
    const NAME: &'static str = "page-number-misplaced";
    const SERVES_PAGES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(PageNumberMisplaced { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let numbered: Vec<(PageIdx, &Page, &PageText)> =
            case.music_pages().skip(1).filter_map(|(at, page)| Some((at, page, number(page)?))).collect();
        if numbered.is_empty() {
            return Outcome::CouldNotRun("page numbers as printed".to_owned());
        }
        let misplaced: Vec<_> = numbered.into_iter().filter(|(_, page, number)| !is_in_corner(page, number)).collect();
        let pages: Vec<PageIdx> = misplaced.iter().map(|(at, _, _)| *at).collect();
        let (subject, verb) = match pages.as_slice() {
            [] => return Outcome::Ran(Vec::new()),
            [one] => (format!("the number of {}", case.page_words(*one)), "stands"),
            several => (format!("the numbers of {}", case.pages_words(several)), "stand"),
        };
        let message = format!("{subject} {verb} elsewhere than in the outer top corner.");
        let place = |(at, _, number): &(PageIdx, &Page, &PageText)| Place { rect: number.rect, ..case.on_page(*at) };
        let finding = Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, None, None), "elsewhere")
            .asks("the outer top corner")
            .at(misplaced.iter().map(place).collect())
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// The page's number, where it stands for itself at a known place.
fn number(page: &Page) -> Option<&PageText> {
    page.texts.iter().find(|text| text.rect.is_some() && !page.label.is_empty() && text.text.trim() == page.label)
}

fn is_in_corner(page: &Page, number: &PageText) -> bool {
    let Some(rect) = number.rect else { return true };
    let (width, height) = page.size.value;
    let middle = (rect.left + rect.right) / 2.0;
    let is_outer = match page.side {
        Side::Recto => middle > width / 2.0,
        Side::Verso => middle < width / 2.0,
    };
    is_outer && rect.top < height / 2.0
}
