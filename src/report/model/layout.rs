//! The pages in the published JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::expected::ExpectedError;
use super::music::rounded;
use super::thousandth;
use crate::casting_off::fitted_widths;
use crate::check::Checked;
use crate::layout::{self, Origin};
use crate::place::{BarIdx, PageIdx, PartId, StaffId};
use crate::score;
use crate::survey;
use crate::units::{Mm, Seconds};

/// The pages, and where they come from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Layout {
    #[serde(default)]
    pub footing: Footing,
    /// The weakest of `origin_of`; null when there are no pages.
    pub origin: Option<OriginName>,
    pub origin_of: OriginOf,
    /// How far forecasts of open scores were off; null where the pages are the files' own.
    pub expected_error: Option<ExpectedError>,
    pub pages: Vec<Page>,
}

/// Whose pages they are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Footing {
    /// The files' own; what they leave out is estimated.
    #[default]
    Recorded,
    /// Printed ones, measured.
    Printed,
    /// Those that automatic layout will make.
    Forecast,
    Proposal,
}

/// Where each kind of value comes from: the weakest origin of any such value.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct OriginOf {
    /// Which system begins and ends each page.
    pub pages: Option<OriginName>,
    /// Which bar begins and ends each system.
    pub systems: Option<OriginName>,
    pub bar_widths: Option<OriginName>,
    /// Where the staves stand on the page.
    pub heights: Option<OriginName>,
}

/// Where a value comes from, from the strongest to the weakest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OriginName {
    /// The user said so.
    Given,
    /// The file says so.
    Recorded,
    /// Seen on an engraved page.
    Measured,
    /// Found by matching pages with music.
    Matched,
    /// Computed, because no source tells.
    Estimated,
}

/// One page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Page {
    /// In reading order, counted from 1: the page's index plus 1.
    pub number: u32,
    /// The number printed on it.
    pub label: String,
    pub side: SideName,
    pub kind: PageKind,
    pub width_mm: Mm,
    pub height_mm: Mm,
    /// Symbols per 100 staff spaces of sounding staff, where the page is densest.
    pub density: Option<f64>,
    pub systems: Vec<System>,
}

/// The side of a leaf: recto is the right-hand page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SideName {
    Recto,
    Verso,
}

/// What stands on a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PageKind {
    Music,
    /// Music of a part, in a file that begins with a score.
    Part,
    Cover,
    Blank,
    Text,
}

/// One system.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct System {
    pub first_bar_index: Option<BarIdx>,
    pub last_bar_index: Option<BarIdx>,
    pub first_bar_label: Option<String>,
    /// Top line of the first staff, from the page's top edge.
    pub top_mm: Mm,
    /// Bottom line of the last staff, from the page's top edge.
    pub bottom_mm: Mm,
    /// How wide it is set against its natural width (1 is natural); null when that was not computed.
    pub stretch: Option<f64>,
    /// From the top; staves that are left out are not here.
    pub staves: Vec<PrintedStaff>,
    pub bars: Vec<PrintedBar>,
}

/// One printed staff.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PrintedStaff {
    /// Index of its part in the list of parts.
    pub part: Option<PartId>,
    /// Index among all staves of the score, from the top.
    pub staff: Option<StaffId>,
    /// Of its top line, from the page's top edge.
    pub top_mm: Mm,
    /// From its top to its bottom line, as if it had five.
    pub height_mm: Mm,
    pub lines: u8,
}

/// One printed bar; a multi-bar rest is one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PrintedBar {
    /// Of the (first) bar it shows.
    pub index: Option<BarIdx>,
    /// From barline to barline.
    pub width_mm: Mm,
    /// The width that its music would take in this system; null when that was not computed.
    pub fitted_mm: Option<Mm>,
}

/// The page or two facing pages between two turns.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Opening {
    /// Indices of its pages.
    pub pages: Vec<PageIdx>,
    /// Of its music played straight through.
    pub seconds: Option<Seconds>,
}

impl Layout {
    pub(super) fn of(checked: &Checked) -> Layout {
        let mut layout = Layout::bare(&checked.layout, checked);
        layout.footing = match (checked.is_forecast, &checked.printed) {
            (true, _) => Footing::Forecast,
            (false, Some(_)) => Footing::Printed,
            (false, None) => Footing::Recorded,
        };
        layout.expected_error = checked.expected.as_ref().map(ExpectedError::of);
        for (page, surveyed) in layout.pages.iter_mut().zip(&checked.survey.pages) {
            page.density = surveyed.density.map(thousandth);
        }
        layout
    }

    /// Any pages of the score, not surveyed.
    pub(super) fn bare(layout: &layout::Layout, checked: &Checked) -> Layout {
        Layout {
            footing: Footing::Proposal,
            origin: weakest(layout).map(OriginName::from),
            origin_of: OriginOf::of(layout),
            expected_error: None,
            pages: layout.pages.iter().zip(1..).map(|(page, number)| Page::of(page, number, checked)).collect(),
        }
    }
}

/// The weakest origin of all that a layout says.
fn weakest(layout: &layout::Layout) -> Option<Origin> {
    Origin::weakest(
        breaks_of_pages(layout).chain(breaks_of_systems(layout)).chain(widths(layout)).chain(heights(layout)),
    )
}

fn breaks_of_pages(layout: &layout::Layout) -> impl Iterator<Item = Origin> {
    layout.pages.iter().map(|page| page.breaks)
}

fn breaks_of_systems(layout: &layout::Layout) -> impl Iterator<Item = Origin> {
    layout.systems().map(|(_, _, system)| system.breaks)
}

fn widths(layout: &layout::Layout) -> impl Iterator<Item = Origin> {
    layout.systems().flat_map(|(_, _, system)| system.bars.iter().map(|bar| bar.placed))
}

fn heights(layout: &layout::Layout) -> impl Iterator<Item = Origin> {
    layout.systems().flat_map(|(_, _, system)| system.staves.iter().flat_map(|staff| [staff.placed, staff.sized]))
}

impl OriginOf {
    fn of(layout: &layout::Layout) -> OriginOf {
        OriginOf {
            pages: Origin::weakest(breaks_of_pages(layout)).map(OriginName::from),
            systems: Origin::weakest(breaks_of_systems(layout)).map(OriginName::from),
            bar_widths: Origin::weakest(widths(layout)).map(OriginName::from),
            heights: Origin::weakest(heights(layout)).map(OriginName::from),
        }
    }
}

impl From<Origin> for OriginName {
    fn from(origin: Origin) -> OriginName {
        match origin {
            Origin::Given => OriginName::Given,
            Origin::Recorded => OriginName::Recorded,
            Origin::Measured { .. } => OriginName::Measured,
            Origin::Matched => OriginName::Matched,
            Origin::Estimated => OriginName::Estimated,
        }
    }
}

impl Page {
    fn of(page: &layout::Page, number: u32, checked: &Checked) -> Page {
        let (width, height) = page.size.value;
        Page {
            number,
            label: page.label.clone(),
            side: match page.side {
                layout::Side::Recto => SideName::Recto,
                layout::Side::Verso => SideName::Verso,
            },
            kind: match page.kind {
                layout::PageKind::Music => PageKind::Music,
                layout::PageKind::Part => PageKind::Part,
                layout::PageKind::Cover => PageKind::Cover,
                layout::PageKind::Blank => PageKind::Blank,
                layout::PageKind::Text => PageKind::Text,
            },
            width_mm: width.rounded(),
            height_mm: height.rounded(),
            density: None,
            systems: page.systems.iter().map(|system| System::of(system, checked)).collect(),
        }
    }
}

impl System {
    fn of(system: &layout::System, checked: &Checked) -> System {
        let score = &checked.score;
        let span = system.span();
        let fitted = fitted_widths(system, &checked.metrics.spacing).unwrap_or_default();
        let fitted = fitted.into_iter().map(Some).chain(std::iter::repeat(None));
        System {
            first_bar_index: span.map(|span| span.first),
            last_bar_index: span.map(|span| span.last),
            first_bar_label: span.map(|span| score.label(span.first).to_owned()),
            top_mm: system.rect.top.rounded(),
            bottom_mm: system.rect.bottom.rounded(),
            stretch: system.stretch.map(thousandth),
            staves: system.staves.iter().map(|staff| PrintedStaff::of(staff, score)).collect(),
            bars: system.bars.iter().zip(fitted).map(|(bar, fitted)| PrintedBar::of(bar, fitted)).collect(),
        }
    }
}

impl PrintedStaff {
    fn of(printed: &layout::PrintedStaff, score: &score::Score) -> PrintedStaff {
        PrintedStaff {
            part: printed.staff.and_then(|id| score.staves.get(id.at())).map(|staff| staff.part),
            staff: printed.staff,
            top_mm: printed.top.rounded(),
            height_mm: printed.height.rounded(),
            lines: printed.lines,
        }
    }
}

impl PrintedBar {
    fn of(printed: &layout::PrintedBar, fitted: Option<Mm>) -> PrintedBar {
        PrintedBar {
            index: printed.bars.map(|bars| bars.first),
            width_mm: (printed.right - printed.left).rounded(),
            fitted_mm: fitted.map(Mm::rounded),
        }
    }
}

impl Opening {
    pub(super) fn of(opening: &survey::Opening) -> Opening {
        Opening { pages: opening.pages.clone(), seconds: opening.seconds.map(rounded) }
    }
}
