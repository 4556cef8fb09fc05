//! How many systems a forecast puts on a page, and how many pages it needs, where the recorded systems are kept.
//!
//! The gaps between staves are told three times: as a house that nothing is known of has them; as the other half of the
//! file's pages has them; as all its pages have them, which is what keeping the systems of a file with pages does.

use rastrum::place::BarIdx;

use super::figure::{Figure, Row};
use super::folder::{Folder, Truth, Work};
use super::forecast::{is_orchestra, is_quartet, keeping_systems, natural_spread, quartets};

/// Which files are meant.
type Kind = fn(&Truth) -> bool;

const KINDS: [(&str, Kind); 2] = [("orchestral", is_orchestra), ("quartet", is_quartet)];

/// What a page's gaps are learned from: told the number of pages and the page at hand, whether a page counts.
type Lesson = fn(usize, usize, usize) -> bool;

const LESSONS: [(&str, Lesson); 3] = [
    ("usual gaps", |_, _, _| false),
    ("gaps of the other half's pages", |pages, at, other| (at * 2 < pages) != (other * 2 < pages)),
    ("gaps of its pages", |_, _, _| true),
];

/// Pages of several systems one by one, and all pages of a quartet.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let by_page = KINDS.into_iter().flat_map(|(kind, wanted)| {
        LESSONS.into_iter().map(move |(lesson, counts)| {
            let name = format!("{kind} pages that hold as many systems as recorded, {lesson}");
            page_by_page(name, folder, wanted, counts)
        })
    });
    by_page.chain([pages(folder)]).filter(|figure| figure.denominator > 0).collect()
}

/// Each page begins where it is recorded to begin, so that one fault does not shift all later pages. A file's last page
/// holds what is left and tells nothing; pages of one system are left out.
fn page_by_page(name: String, folder: &Folder, wanted: Kind, counts: Lesson) -> Figure {
    let rows = folder.works().filter(|(truth, _)| wanted(truth)).filter_map(|(truth, work)| {
        let found = systems_on_pages(work, counts);
        let wrong: Vec<String> = found
            .iter()
            .filter(|(recorded, found)| recorded != found)
            .map(|(recorded, found)| format!("{found} for {recorded}"))
            .collect();
        let row = Row::new(&truth.file, (found.len() - wrong.len()) as u64, found.len() as u64);
        (!found.is_empty()).then(|| if wrong.is_empty() { row } else { row.with_note(wrong.join(", ")) })
    });
    Figure::new(name, "pages", rows.collect())
}

/// Recorded and found, page by page.
fn systems_on_pages(work: &Work, counts: Lesson) -> Vec<(usize, usize)> {
    let all = work.layout.pages.len();
    let inner = work.layout.pages.iter().enumerate().take(all.saturating_sub(1));
    let told = inner.filter(|(_, page)| page.systems.len() > 1).filter_map(|(at, page)| {
        let spread = natural_spread(work, |other| counts(all, at, other)).unwrap_or(1.0);
        Some((page.systems.len(), systems_from(work, page.span()?.first, spread).unwrap_or(0)))
    });
    told.collect()
}

/// How many of the recorded systems from a bar on go on one page that begins with it.
fn systems_from(work: &Work, first: BarIdx, spread: f64) -> Option<usize> {
    let pages = keeping_systems(work, spread, vec![first])?.pages;
    let page = pages.iter().find(|page| page.span().is_some_and(|span| span.first == first))?;
    Some(page.systems.len())
}

/// Pages of the quartets.
fn pages(folder: &Folder) -> Figure {
    let rows = quartets(folder).into_iter().filter_map(|(truth, work)| {
        let spread = natural_spread(work, |_| true).unwrap_or(1.0);
        let found = keeping_systems(work, spread, Vec::new())?.pages.len();
        let recorded = work.layout.pages.len();
        let row = Row::new(&truth.file, u64::from(found.abs_diff(recorded) <= 1), 1);
        Some(row.with_note(format!("{found} for {recorded}, gaps times {spread:.2}")))
    });
    Figure::new("quartets whose number of pages is within one, gaps of their pages", "files", rows.collect())
}
