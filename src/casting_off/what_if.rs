//! What if: the same music on other papers with other staves. One casting off a cell; the music is measured once.

use super::{Basis, House, Sheet, Staves, Wishes, forecast, on_sheet};
use crate::geometry::Margins;
use crate::layout::{Layout, Page, System};
use crate::paper::{Nearest, Paper};
use crate::place::{BarSpan, PageIdx};
use crate::units::{Mm, Spaces};

/// Staff heights that are compared beside the score's own.
pub const STAFF_HEIGHTS: [Mm; 4] = [Mm(4.0), Mm(4.5), Mm(5.0), Mm(5.5)];
/// Set tighter than this share of natural, a lone bar runs over its line.
const TIGHTEST: f64 = 0.8;
/// Rounding: a system may end so far below the margin.
const SLACK: Mm = Mm(0.05);
/// The largest staves are looked for between these, in tenths of a millimetre.
const TENTHS: (u32, u32) = (10, 120);
/// A page is this paper within so much.
const SAME_PAPER: Mm = Mm(2.0);

/// Papers and staff heights side by side.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WhatIf {
    /// The score's own paper first, then those of the house; each once.
    pub papers: Vec<WhatIfPaper>,
}

/// One paper with every staff height.
#[derive(Clone, Debug, PartialEq)]
pub struct WhatIfPaper {
    pub name: String,
    /// Width, height.
    pub size: (Mm, Mm),
    /// The score's own paper.
    pub is_own: bool,
    /// By staff height, from the smallest.
    pub cells: Vec<WhatIfCell>,
    /// In tenths of a millimetre, the largest staves with which one system of all staves still goes onto each page.
    pub largest: Option<Mm>,
}

/// One casting off.
#[derive(Clone, Debug, PartialEq)]
pub struct WhatIfCell {
    pub staff_height: Mm,
    pub pages: u32,
    /// Most systems on a page.
    pub systems_max: u32,
    /// Pages with two systems or more, of a score most pages of which hold one.
    pub split_pages: u32,
    /// The tightest system against its natural width.
    pub stretch_min: Option<f64>,
    /// The narrowest gap between two staves.
    pub gap_min: Option<Spaces>,
    /// Where it fails first; `None` where it holds.
    pub fails: Option<WhatIfFailure>,
}

/// Something that does not go onto its page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WhatIfFailure {
    pub page: PageIdx,
    pub bars: BarSpan,
    pub what: TooLarge,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TooLarge {
    /// The system is higher than the page has room.
    System,
    /// The bar is wider than the line.
    Bar,
}

/// Casts the music off once for each paper and staff height, the score's own among them.
#[must_use]
pub fn what_if(basis: &Basis<'_>, papers: &[Paper]) -> WhatIf {
    let own = own_staff(basis.pages, basis.house);
    let mut heights: Vec<Mm> = STAFF_HEIGHTS.into_iter().chain([own]).collect();
    heights.sort_by(|a, b| a.0.total_cmp(&b.0));
    heights.dedup_by(|one, other| (*one - *other).abs() < Mm(0.05));
    let paper = |(name, size, is_own): (String, (Mm, Mm), bool)| {
        // Paper without any room between its margins is none of the choices.
        let cells = heights.iter().map(|height| cell(basis, size, *height)).collect::<Option<Vec<WhatIfCell>>>()?;
        Some(WhatIfPaper { name, size, is_own, cells, largest: largest(basis, size) })
    };
    WhatIf { papers: sheets(basis, papers).into_iter().filter_map(paper).collect() }
}

/// Of the first page's largest staff, in tenths: nobody orders finer.
fn own_staff(pages: &Layout, house: &House) -> Mm {
    let first = pages.pages.iter().flat_map(|page| &page.systems).next();
    let staff = first.and_then(|system| system.staves.iter().map(|staff| staff.height).reduce(Mm::max));
    staff.unwrap_or(house.staff_height).in_tenths()
}

fn sheets(basis: &Basis<'_>, papers: &[Paper]) -> Vec<(String, (Mm, Mm), bool)> {
    let own = own_paper(basis);
    let near = Paper::nearest(own.0, own.1, SAME_PAPER);
    let name = match near {
        Some(Nearest { paper, landscape: false }) => paper.name.clone().into_owned(),
        Some(Nearest { paper, landscape: true }) => format!("{} lying", paper.name),
        None => format!("{:.0} x {:.0} mm", own.0.0, own.1.0),
    };
    let is_own = |paper: &&Paper| near.is_some_and(|near| !near.landscape && near.paper.name == paper.name);
    let others = papers.iter().filter(|paper| !is_own(paper));
    let others = others.map(|paper| (paper.name.clone().into_owned(), (paper.width, paper.height), false));
    std::iter::once((name, own, true)).chain(others).collect()
}

fn own_paper(basis: &Basis<'_>) -> (Mm, Mm) {
    basis.pages.pages.first().map_or(basis.house.paper, |page| page.size.value)
}

fn cell(basis: &Basis<'_>, paper: (Mm, Mm), staff_height: Mm) -> Option<WhatIfCell> {
    let layout = on_paper(basis, basis.house, paper, staff_height)?;
    let systems = || layout.systems().map(|(_, _, system)| system);
    let gaps = systems().flat_map(|system| {
        system.staves.windows(2).filter_map(|pair| match pair {
            [upper, lower] => Some((lower.top - upper.bottom()).in_spaces(upper.height.max(lower.height))),
            _ => None,
        })
    });
    Some(WhatIfCell {
        staff_height,
        pages: layout.pages.len() as u32,
        systems_max: layout.pages.iter().map(|page| page.systems.len()).max().unwrap_or(0) as u32,
        split_pages: layout.pages.iter().filter(|page| page.systems.len() > 1).count() as u32,
        stretch_min: systems().filter_map(|system| system.stretch).reduce(f64::min),
        gap_min: gaps.reduce(Spaces::min),
        fails: failure(&layout),
    })
}

fn on_paper(basis: &Basis<'_>, house: &House, paper: (Mm, Mm), staff_height: Mm) -> Option<Layout> {
    let sheet = Sheet { paper: Some(paper), margins: None, staff_height: Some(staff_height) };
    let record = on_sheet(basis.record, &sheet, basis.score);
    forecast(&Basis { record: &record, house, ..*basis }, &Wishes::default())
}

/// Where a system or a bar first does not go onto its page.
fn failure(layout: &Layout) -> Option<WhatIfFailure> {
    layout.systems().find_map(|(at, _, system)| {
        let page = layout.pages.get(at.at())?;
        let what = if runs_over(page, system) {
            TooLarge::System
        } else if system.bars.len() == 1 && system.stretch.is_some_and(|stretch| stretch < TIGHTEST) {
            TooLarge::Bar
        } else {
            return None;
        };
        Some(WhatIfFailure { page: at, bars: system.span()?, what })
    })
}

/// Whether every system goes onto its page.
fn holds(layout: &Layout) -> bool {
    layout.pages.iter().all(|page| !page.systems.iter().any(|system| runs_over(page, system)))
}

fn runs_over(page: &Page, system: &System) -> bool {
    let Margins { bottom, .. } = page.margins.value;
    system.rect.bottom > page.size.value.1 - bottom + SLACK
}

/// Staves that go onto the pages of the house, where those of the house itself do not: the largest that do, shown all
/// at once. `None` where its own go, or no others do.
#[must_use]
pub fn staves_that_fit(basis: &Basis<'_>) -> Option<Mm> {
    let paper = own_paper(basis);
    let own = on_paper(basis, basis.house, paper, basis.house.staff_height)?;
    largest(basis, paper).filter(|largest| !holds(&own) && *largest < basis.house.staff_height)
}

/// Found by halving: larger staves never hold where smaller ones do not.
fn largest(basis: &Basis<'_>, paper: (Mm, Mm)) -> Option<Mm> {
    let house = House { staves: Staves::Full, ..basis.house.clone() };
    let holds =
        |tenths: u32| on_paper(basis, &house, paper, Mm(f64::from(tenths) / 10.0)).is_some_and(|layout| holds(&layout));
    let (mut least, mut most) = TENTHS;
    if !holds(least) {
        return None;
    }
    while most - least > 1 {
        let middle = least.midpoint(most);
        if holds(middle) { least = middle } else { most = middle }
    }
    Some(Mm(f64::from(least) / 10.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::casting_off::pages;
    use crate::fixture::{self, QUARTET, put, quarter};
    use crate::layout::Record;
    use crate::metrics::Metrics;
    use crate::score::Score;

    fn busy(bars: u32) -> Score {
        let mut score = fixture::score(&QUARTET, bars);
        for bar in 0..bars {
            for staff in 0..4 {
                put(&mut score, bar, staff, (0..4).map(|beat| quarter("B4", beat)).collect());
            }
        }
        score
    }

    fn table(score: &Score, papers: &[&str]) -> WhatIf {
        let metrics = Metrics::of(score);
        let (record, house) = (Record::default(), House::default());
        let layout = pages(score, &metrics, &record, &house);
        let papers: Vec<Paper> = papers.iter().filter_map(|name| Paper::find(name)).collect();
        what_if(&Basis { score, metrics: &metrics, record: &record, pages: &layout, house: &house }, &papers)
    }

    #[test]
    fn the_own_paper_comes_first_and_only_once() {
        let table = table(&busy(40), &["A4", "A3", "B4"]);
        let names: Vec<&str> = table.papers.iter().map(|paper| paper.name.as_str()).collect();
        assert_eq!(names, ["A3", "A4", "B4"]);
        assert_eq!(table.papers.iter().map(|paper| paper.is_own).collect::<Vec<_>>(), [true, false, false]);
        let heights: Vec<Mm> = table.papers[0].cells.iter().map(|cell| cell.staff_height).collect();
        assert_eq!(heights, STAFF_HEIGHTS, "the score's own 4.5 mm is among them");
    }

    #[test]
    fn larger_staves_and_smaller_paper_take_no_fewer_pages() {
        let table = table(&busy(400), &["A4"]);
        let pages = |paper: &WhatIfPaper| paper.cells.iter().map(|cell| cell.pages).collect::<Vec<_>>();
        let (a3, a4) = (pages(&table.papers[0]), pages(&table.papers[1]));
        assert!(a3.is_sorted() && a4.is_sorted() && a3.iter().zip(&a4).all(|(a3, a4)| a3 < a4), "{a3:?} {a4:?}");
    }

    #[test]
    fn the_largest_staves_hold_and_a_tenth_more_do_not() {
        let score = busy(40);
        let metrics = Metrics::of(&score);
        let record = Record::default();
        let house = House { staves: Staves::Full, paper: (Mm(100.0), Mm(100.0)), ..House::default() };
        let layout = pages(&score, &metrics, &record, &house);
        let basis = Basis { score: &score, metrics: &metrics, record: &record, pages: &layout, house: &house };
        let largest = largest(&basis, house.paper).unwrap();
        let holds = |height| {
            failure(&on_paper(&basis, &house, house.paper, height).unwrap())
                .is_none_or(|fails| fails.what != TooLarge::System)
        };
        assert!(holds(largest) && !holds(largest + Mm(0.1)), "{largest}");
        // By hand: 70 mm between the margins hold four staves of 4 spaces and three gaps of at least 4, what stands
        // above and below them left out: no more than 28 spaces, staves of at most 10 mm.
        assert!(largest <= Mm(10.0) && largest > Mm(6.0), "{largest}");
    }

    #[test]
    fn a_stack_higher_than_the_paper_says_where() {
        let table = table(&busy(12), &["60 x 60 mm"]);
        let cell = table.papers[1].cells.last().unwrap();
        assert!(cell.fails.is_some() && table.papers[0].cells.iter().all(|cell| cell.fails.is_none()));
    }
}
