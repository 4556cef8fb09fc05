//! Where something stands: indices into the music, and places on paper.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::geometry::Rect;

/// A bar of the whole work, counted from 0 over all movements. The printed number is a label of the bar, not this.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct BarIdx(pub u32);

/// A staff of the full score, counted from 0 at the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct StaffId(pub u16);

/// A part of the score (one or more staves), counted from 0 at the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct PartId(pub u16);

/// A player, who reads one part on one stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct PlayerId(pub u16);

/// A document in one report (the score, a part, a draft), counted from 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct DocumentId(pub u16);

/// A page of a document, counted from 0 in reading order. The printed page number is a label of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct PageIdx(pub u32);

impl BarIdx {
    /// As a plain index into a list of bars.
    #[must_use]
    pub fn at(self) -> usize {
        self.0 as usize
    }
}

impl StaffId {
    /// As a plain index into a list of staves.
    #[must_use]
    pub fn at(self) -> usize {
        usize::from(self.0)
    }
}

impl PartId {
    /// As a plain index into a list of parts.
    #[must_use]
    pub fn at(self) -> usize {
        usize::from(self.0)
    }
}

impl PageIdx {
    /// As a plain index into a list of pages.
    #[must_use]
    pub fn at(self) -> usize {
        self.0 as usize
    }
}

/// Neighbouring bars, both ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
pub struct BarSpan {
    pub first: BarIdx,
    pub last: BarIdx,
}

impl BarSpan {
    #[must_use]
    pub fn new(first: BarIdx, last: BarIdx) -> BarSpan {
        BarSpan { first, last }
    }

    /// A single bar.
    #[must_use]
    pub fn one(bar: BarIdx) -> BarSpan {
        BarSpan { first: bar, last: bar }
    }

    #[must_use]
    pub fn contains(self, bar: BarIdx) -> bool {
        self.first <= bar && bar <= self.last
    }

    /// Number of bars, at least 1.
    #[must_use]
    pub fn count(self) -> u32 {
        self.last.0.saturating_sub(self.first.0) + 1
    }

    /// The bars in order.
    pub fn iter(self) -> impl Iterator<Item = BarIdx> {
        (self.first.0..=self.last.0).map(BarIdx)
    }
}

/// Where a finding stands, on paper and in the music. What is not known, or does not apply, is `None`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Place {
    pub document: DocumentId,
    pub page: Option<PageIdx>,
    /// The system on its page, counted from 0 at the top.
    pub system: Option<u16>,
    /// On that page.
    pub rect: Option<Rect>,
    pub bars: Option<BarSpan>,
    /// In score order; empty when the place is not about certain staves.
    pub staves: Vec<StaffId>,
    pub player: Option<PlayerId>,
    /// What was found at this very place, where a finding has several.
    pub here: Option<Here>,
    /// It stands for all pages with music.
    pub everywhere: bool,
}

/// The words of one place among several of one finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Here {
    /// "Violas and cellos: 5.5 spaces apart."
    pub says: String,
    /// "7.8 spaces"; empty where the finding's own limit holds.
    pub wanted: String,
}

impl Place {
    /// A whole page.
    #[must_use]
    pub fn page(page: PageIdx) -> Place {
        Place { page: Some(page), ..Place::default() }
    }

    /// The same place with what was found there.
    #[must_use]
    pub fn with_words(self, says: impl Into<String>, wanted: impl Into<String>) -> Place {
        Place { here: Some(Here { says: says.into(), wanted: wanted.into() }), ..self }
    }

    /// A passage of music, wherever it is printed.
    #[must_use]
    pub fn bars(bars: BarSpan) -> Place {
        Place { bars: Some(bars), ..Place::default() }
    }
}
