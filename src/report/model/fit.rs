//! How printed pages fit the music, in the published JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::check::{Checked, Printed};
use crate::join;
use crate::place::{BarIdx, PageIdx};

/// The printed pages that were looked at in place of recorded ones.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PrintedPages {
    /// File name without its folder.
    pub name: String,
    /// Pages that asked for too much and were not looked at.
    pub unread: Vec<PageIdx>,
}

/// How the pages fit the music.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Match {
    pub bars_matched: u32,
    pub bars_total: u32,
    pub pages: Vec<PageMatch>,
    pub systems: Vec<SystemMatch>,
    /// Bars on no page.
    pub missing: Vec<MissingBars>,
}

/// One page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PageMatch {
    pub page: PageIdx,
    pub status: PageStatus,
}

/// How a page fits the music.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PageStatus {
    /// Every system has the bars that the music has.
    Matched,
    /// Some systems have more bars or fewer, or are not found.
    Partly,
    /// None of its systems is found in the music.
    NotFound,
    /// No music, or that of a part.
    Other,
}

/// One system.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SystemMatch {
    pub page: PageIdx,
    /// On its page, counted from 0.
    pub system: u16,
    /// The bar number printed at it.
    pub label_read: Option<String>,
    /// Printed bars, multi-bar rests with all their bars.
    pub bars_counted: u32,
    pub bars_matched: u32,
    pub first_bar_index: Option<BarIdx>,
    pub last_bar_index: Option<BarIdx>,
}

/// Bars on no page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MissingBars {
    pub first_bar_index: BarIdx,
    pub last_bar_index: BarIdx,
    /// The page of the last system before them, and of the first one after them.
    pub after_page: Option<PageIdx>,
    pub before_page: Option<PageIdx>,
}

impl PrintedPages {
    pub(in crate::report) fn of(printed: &Printed) -> PrintedPages {
        PrintedPages { name: printed.name.clone(), unread: printed.unread.iter().copied().map(PageIdx).collect() }
    }
}

/// `None` where no pages were joined with music.
pub(super) fn of(checked: &Checked) -> Option<Match> {
    checked.printed.as_ref().and_then(|printed| printed.fit.as_ref()).map(Match::of)
}

impl Match {
    pub(in crate::report) fn of(fit: &join::Fit) -> Match {
        let system = |own: &join::SystemFit| SystemMatch {
            page: own.page,
            system: own.system,
            label_read: own.label_read.clone(),
            bars_counted: own.bars_counted,
            bars_matched: own.bars_matched,
            first_bar_index: own.bars.map(|bars| bars.first),
            last_bar_index: own.bars.map(|bars| bars.last),
        };
        let missing = |own: &join::Missing| MissingBars {
            first_bar_index: own.bars.first,
            last_bar_index: own.bars.last,
            after_page: own.after.map(|(page, _)| page),
            before_page: own.before.map(|(page, _)| page),
        };
        Match {
            bars_matched: fit.bars_matched,
            bars_total: fit.bars_total,
            pages: fit.pages.iter().map(|own| PageMatch { page: own.page, status: own.status.into() }).collect(),
            systems: fit.systems.iter().map(system).collect(),
            missing: fit.missing.iter().map(missing).collect(),
        }
    }
}

impl From<join::PageStatus> for PageStatus {
    fn from(status: join::PageStatus) -> PageStatus {
        match status {
            join::PageStatus::Matched => PageStatus::Matched,
            join::PageStatus::Partly => PageStatus::Partly,
            join::PageStatus::NotFound => PageStatus::NotFound,
            join::PageStatus::Other => PageStatus::Other,
        }
    }
}
