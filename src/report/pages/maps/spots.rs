//! Where findings stand on the pages: one spot for each place that is marked.

use crate::geometry::Rect;
use crate::layout::Layout;
use crate::place::{BarSpan, PageIdx, Place};
use crate::rules::{Finding, Scope, Weight};
use crate::units::Mm;

/// A place of a finding on a page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Of the finding, from 1 in the order of all findings.
    pub number: usize,
    pub weight: Weight,
    pub page: PageIdx,
    /// Its box on that page; `None` for the page as a whole.
    pub rect: Option<Rect>,
    /// Where in the music, when it is about certain bars.
    pub bars: Option<BarSpan>,
    /// Which of the finding's places it is.
    pub place: usize,
    /// The finding's own sentence tells of this place.
    pub is_worst: bool,
}

impl Spot {
    /// Whether a mark for one is a mark for both.
    fn is_as_good_as(&self, other: &Spot) -> bool {
        self.number == other.number && self.page == other.page && self.rect == other.rect
    }
}

/// Every place of every finding that lies on a page of this document, by page, from top to bottom.
///
/// What holds for whole pages of a whole work is marked on its first page only; two places of one finding in one box
/// are one.
#[must_use]
pub fn of(findings: &[Finding], layout: &Layout) -> Vec<Spot> {
    let mut spots: Vec<Spot> = Vec::new();
    for (at, finding) in findings.iter().enumerate() {
        let places = finding.places.iter().enumerate().filter(|(_, place)| place.document == layout.document);
        let marked = places.filter_map(|(index, place)| Some((index, on_page(place, layout)?, place.bars)));
        let mut told = false;
        for (place, (page, rect), bars) in marked {
            if rect.is_none() && finding.key.scope == Scope::Work && std::mem::replace(&mut told, true) {
                continue;
            }
            let is_worst = place == finding.worst;
            let spot = Spot { number: at + 1, weight: finding.weight, page, rect, bars, place, is_worst };
            if !spots.iter().any(|other| other.is_as_good_as(&spot)) {
                spots.push(spot);
            }
        }
    }
    spots.sort_by(|one, other| {
        let height = |spot: &Spot| spot.rect.map_or(Mm(f64::MIN), |rect| rect.top).0;
        one.page.cmp(&other.page).then(height(one).total_cmp(&height(other))).then(one.number.cmp(&other.number))
    });
    spots
}

/// The page of a place and its box there, found through its bars where the place has no box of its own.
fn on_page(place: &Place, layout: &Layout) -> Option<(PageIdx, Option<Rect>)> {
    let found = place.bars.and_then(|bars| {
        let (page, _, system, _) = layout.find(bars.first)?;
        Some((page, Layout::rect_of(system, bars, &place.staves)?))
    });
    let index = place.page.or(found.map(|(page, _)| page))?;
    let page = layout.pages.get(index.at())?;
    let system = || place.system.and_then(|at| page.systems.get(usize::from(at))).map(|system| system.rect);
    let own = place.rect.filter(|_| place.page.is_some());
    let rect = own.or(found.filter(|(on, _)| *on == index).map(|(_, rect)| rect)).or_else(system);
    let (width, height) = page.size.value;
    // A box that fills nearly the whole paper is the page itself.
    let whole = |rect: &Rect| rect.width() > width * 0.97 && rect.height() > height * 0.97;
    Some((index, rect.filter(|rect| !whole(rect)).map(|rect| on_paper(&rect, width, height))))
}

/// What of a box lies on the paper: a reader cannot be led beyond it.
fn on_paper(rect: &Rect, width: Mm, height: Mm) -> Rect {
    let across = |x: Mm| x.max(Mm::ZERO).min(width);
    let down = |y: Mm| y.max(Mm::ZERO).min(height);
    let (left, top) = (across(rect.left), down(rect.top));
    Rect::new(left, top, across(rect.right).max(left), down(rect.bottom).max(top))
}
