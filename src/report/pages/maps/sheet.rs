//! The lie of a sheet: A4 on its side, a grid of five columns, pages in the middle, words in the outer columns.

use crate::geometry::Rect;
use crate::layout::{Layout, Side};
use crate::place::PageIdx;
use crate::report::pages::style;
use crate::report::pdf::at;
use crate::units::Mm;

use super::view::{Scale, View};

/// Left and right edge of all that is printed.
pub const LEFT: Mm = style::MARGIN;
pub const RIGHT: Mm = Mm(style::SHEET.width.0 - style::MARGIN.0);
/// Baselines of the heading, the line below it and the legend.
pub const HEADING: Mm = Mm(26.0);
pub const BELOW_HEADING: Mm = Mm(30.5);
pub const LEGEND: Mm = Mm(183.0);

/// Top edge of drawn pages and of words.
pub const TOP: Mm = Mm(40.0);
/// Where pages and words end.
pub const BOTTOM: Mm = Mm(178.0);
/// Room for marks around drawn pages.
pub const STRIP: Mm = Mm(5.2);
const COLUMN: Mm = Mm(41.0);
const GAP: Mm = Mm(17.0);
/// Room for a measured gap and its words beside a page by itself.
pub const BESIDE: Mm = Mm(44.0);
/// The printed number stands under its page.
const NUMBER: Mm = Mm(3.0);

/// The column of the grid, from 0 to 4, from `top` downwards.
#[must_use]
pub fn column(index: u8, top: Mm) -> Rect {
    let left = LEFT + (COLUMN + GAP) * f64::from(index);
    Rect::new(left, top, left + COLUMN, BOTTOM)
}

/// All columns of a sheet that holds nothing but words.
#[must_use]
pub fn columns() -> Vec<Rect> {
    (0..5).map(|index| column(index, TOP)).collect()
}

/// An opening on its sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    pub scale: Scale,
    /// The pages that are there, verso first.
    pub views: Vec<(PageIdx, View)>,
    /// Where marks may stand.
    pub room: Rect,
    /// Columns under the pages, for words that find no room beside them.
    pub below: Vec<Rect>,
}

/// One scale for every opening of a document, so that pages can be compared between sheets.
#[must_use]
pub fn scale(layout: &Layout) -> Scale {
    let largest = layout
        .pages
        .iter()
        .map(|page| page.size.value)
        .fold((Mm::ZERO, Mm::ZERO), |largest, size| (largest.0.max(size.0), largest.1.max(size.1)));
    let inner = RIGHT - LEFT - (COLUMN + STRIP + Mm(0.3)) * 2.0;
    Scale::fitting((largest.0 * 2.0, largest.1), (inner, BOTTOM - STRIP - NUMBER - TOP))
}

/// Verso left and recto right of the fold in the middle of the sheet.
#[must_use]
pub fn opening(layout: &Layout, pages: &[PageIdx], scale: Scale) -> Plan {
    let fold = style::SHEET.width / 2.0;
    let views: Vec<(PageIdx, View)> = pages
        .iter()
        .filter_map(|index| {
            let page = layout.pages.get(index.at())?;
            let left = if page.side == Side::Verso { fold - scale.of(page.size.value.0) } else { fold };
            Some((*index, View::new(page, at(left, TOP), scale)))
        })
        .collect();
    let papers = views.iter().map(|(_, view)| view.paper).reduce(|all, paper| all.union(&paper));
    let papers = papers.unwrap_or(Rect::new(fold, TOP, fold, TOP));
    let below = papers.bottom + STRIP + NUMBER + Mm(3.0);
    let columns =
        if BOTTOM - below > Mm(12.0) { (1..4).map(|index| column(index, below)).collect() } else { Vec::new() };
    Plan { scale, views, room: around(&papers), below: columns }
}

/// The worst page by itself, as high as the sheet lets it be.
#[must_use]
pub fn alone(layout: &Layout, index: PageIdx) -> Option<Plan> {
    let page = layout.pages.get(index.at())?;
    let inner = column(3, TOP).left - LEFT - STRIP * 2.0 - BESIDE;
    let scale = Scale::fitting(page.size.value, (inner, BOTTOM - NUMBER - TOP));
    let view = View::new(page, at(LEFT + STRIP, TOP), scale);
    Some(Plan { scale, views: vec![(index, view)], room: around(&view.paper), below: vec![column(4, TOP)] })
}

fn around(paper: &Rect) -> Rect {
    Rect::new(paper.left - STRIP, paper.top - STRIP, paper.right + STRIP, paper.bottom + STRIP)
}

impl Plan {
    /// Where marks of a page may stand: a mark never crosses the fold to the facing page.
    #[must_use]
    pub fn room_of(&self, side: Side) -> Rect {
        let fold = style::SHEET.width / 2.0;
        match side {
            _ if self.views.len() < 2 => self.room,
            Side::Verso => Rect { right: fold, ..self.room },
            Side::Recto => Rect { left: fold, ..self.room },
        }
    }

    /// How a page is drawn; `None` when it is not on this sheet.
    #[must_use]
    pub fn view(&self, page: PageIdx) -> Option<&View> {
        self.views.iter().find(|(index, _)| *index == page).map(|(_, view)| view)
    }
}
