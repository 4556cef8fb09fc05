//! The page model: pages, systems, staves and bars with their boxes on paper.
//!
//! Recorded, estimated and measured pages are the same type; every value knows where it came from.

use crate::geometry::{Margins, Rect};
use crate::place::{BarIdx, BarSpan, DocumentId, PageIdx, StaffId};
use crate::units::Mm;

mod origin;
mod record;
mod seen;

pub use origin::{Known, Origin};
pub use record::{BarRecord, PageRecord, Record, StaffRecord, SystemRecord};
pub use seen::{Beyond, Lying, Seen, SeenWords, WordsKind};

/// The pages of one document.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Layout {
    pub document: DocumentId,
    pub told: Told,
    pub pages: Vec<Page>,
}

/// One page.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Width, height.
    pub size: Known<(Mm, Mm)>,
    pub margins: Known<Margins>,
    pub side: Side,
    /// The number printed on it or, failing that, counted on from the last one.
    pub label: String,
    pub kind: PageKind,
    /// How the page's first and last system were found.
    pub breaks: Origin,
    pub systems: Vec<System>,
    /// Titles, page numbers, running heads: all that stands outside the music.
    pub texts: Vec<PageText>,
    /// What else was seen, when it was measured.
    pub seen: Option<Seen>,
}

/// Text outside the music, where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct PageText {
    pub text: String,
    /// What the file says it is ("page number", "title"), when it does.
    pub kind: Option<String>,
    /// `None` when its place is not known.
    pub rect: Option<Rect>,
    /// How the box was found: a file records where a text begins, not how far it runs.
    pub placed: Origin,
}

/// The two sides of a leaf: recto is the right-hand, odd page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Recto,
    Verso,
}

impl Side {
    /// The back of the leaf.
    #[must_use]
    pub fn other(self) -> Side {
        match self {
            Side::Recto => Side::Verso,
            Side::Verso => Side::Recto,
        }
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PageKind {
    #[default]
    Music,
    /// Music of a part, in a file that begins with a score.
    Part,
    Cover,
    Blank,
    Text,
}

/// One system: staves that sound together, from its left to its right barline.
#[derive(Clone, Debug, PartialEq)]
pub struct System {
    /// From the top line of its first staff to the bottom line of its last; left and right ends of the staves.
    pub rect: Rect,
    /// From the top; staves that are left out are not here.
    pub staves: Vec<PrintedStaff>,
    pub bars: Vec<PrintedBar>,
    /// Divider marks stand between this system and the one above; `None` when the file cannot tell.
    pub divider_above: Option<bool>,
    /// How its first and last bar were found.
    pub breaks: Origin,
    /// Its width over its natural width, springs alone: 1.3 is set three tenths looser, 0.95 a twentieth tighter.
    /// `None` where the music or its natural spacing is not known.
    pub stretch: Option<f64>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PrintedStaff {
    /// `None` on measured pages until they are matched with the music.
    pub staff: Option<StaffId>,
    pub lines: u8,
    /// Of its top line, from the page's top edge.
    pub top: Mm,
    /// From top to bottom line of five; a one-line staff counts as high as its neighbours' scale would make five lines.
    pub height: Mm,
    pub role: StaffRole,
    /// How its distance from what stands above (staff, system, margin) was found.
    pub placed: Origin,
    /// How `height` was found.
    pub sized: Origin,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum StaffRole {
    #[default]
    Normal,
    Cue,
    Ossia,
}

/// One printed bar; a multi-bar rest is one printed bar.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintedBar {
    pub left: Mm,
    pub right: Mm,
    /// `None` on measured pages until they are matched with the music.
    pub bars: Option<BarSpan>,
    /// How the barlines were found.
    pub placed: Origin,
}

/// Facts about a document that some sources tell and others do not.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Told {
    /// Bar numbers stand at least at each system's start.
    pub bar_numbers: Option<bool>,
    /// Systems carry instrument names after the first.
    pub names_on_later_systems: Option<bool>,
}

impl Layout {
    /// Whether anything but an estimate says where a system or page begins.
    #[must_use]
    pub fn tells_pages(&self) -> bool {
        self.systems().any(|(_, _, system)| system.breaks != Origin::Estimated)
    }

    /// Every system with its page, in reading order.
    pub fn systems(&self) -> impl Iterator<Item = (PageIdx, u16, &System)> {
        self.pages.iter().enumerate().flat_map(|(page, contents)| {
            let systems = contents.systems.iter().enumerate();
            systems.map(move |(at, system)| (PageIdx(page as u32), at as u16, system))
        })
    }

    /// The printed number of a page, or its place in the document where none is known.
    #[must_use]
    pub fn page_label(&self, page: PageIdx) -> String {
        let printed = self.pages.get(page.at()).map(|page| page.label.as_str()).filter(|label| !label.is_empty());
        printed.map_or_else(|| (page.at() + 1).to_string(), str::to_owned)
    }

    /// Where a bar is printed.
    #[must_use]
    pub fn find(&self, bar: BarIdx) -> Option<(PageIdx, u16, &System, &PrintedBar)> {
        self.systems().find_map(|(page, at, system)| {
            let printed = system.bars.iter().find(|printed| printed.bars.is_some_and(|bars| bars.contains(bar)))?;
            Some((page, at, system, printed))
        })
    }

    /// The box of some bars on some staves (all when empty) of one system, from staff line to staff line.
    #[must_use]
    pub fn rect_of(system: &System, bars: BarSpan, staves: &[StaffId]) -> Option<Rect> {
        let wanted = |staff: &PrintedStaff| staves.is_empty() || staff.staff.is_some_and(|id| staves.contains(&id));
        let shown = |bar: &PrintedBar| bar.bars.is_some_and(|own| own.first <= bars.last && bars.first <= own.last);
        let (top, bottom) = ends(system.staves.iter().filter(|staff| wanted(staff)).map(|s| (s.top, s.bottom())))?;
        let (left, right) = ends(system.bars.iter().filter(|bar| shown(bar)).map(|bar| (bar.left, bar.right)))?;
        Some(Rect::new(left, top, right, bottom))
    }
}

/// Smallest start and largest end.
fn ends(spans: impl Iterator<Item = (Mm, Mm)>) -> Option<(Mm, Mm)> {
    spans.reduce(|all, one| (all.0.min(one.0), all.1.max(one.1)))
}

impl PrintedStaff {
    /// Its bottom line, from the page's top edge; the line itself where there is only one.
    #[must_use]
    pub fn bottom(&self) -> Mm {
        self.top + self.height * (f64::from(self.lines.saturating_sub(1)) / 4.0)
    }
}

impl System {
    /// First and last bar; `None` until the page is matched with the music.
    #[must_use]
    pub fn span(&self) -> Option<BarSpan> {
        let first = self.bars.first()?.bars?.first;
        let last = self.bars.last()?.bars?.last;
        Some(BarSpan::new(first, last))
    }
}

impl Page {
    /// A right-hand page.
    #[must_use]
    pub fn is_recto(&self) -> bool {
        self.side == Side::Recto
    }

    /// First and last bar on the page.
    #[must_use]
    pub fn span(&self) -> Option<BarSpan> {
        let first = self.systems.first()?.span()?.first;
        let last = self.systems.last()?.span()?.last;
        Some(BarSpan::new(first, last))
    }
}
