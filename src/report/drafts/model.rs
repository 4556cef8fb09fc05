//! The published JSON of compared drafts. Indices count from 0. What is not known is null, never 0.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::check::{Compared, Draft, PagesOnly, Reader, ReprintKind};
use crate::compare;
use crate::place::{BarIdx, BarSpan, PageIdx, PartId};
use crate::report::model::Input;
use crate::rules::Weight;

mod music;
mod pages;
mod printed;

pub use music::{Bar, BarOfPart, Part};
pub use pages::{Density, Figures, FoundPlace, PagePair, Trend, Turn};
pub use printed::{Erratum, Reprint, Sheet, Why};

/// Version of the published JSON.
pub const VERSION: &str = "rastrum-compare-1";

/// Drafts held against each other.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CompareReport {
    /// "rastrum-compare-1".
    pub schema: String,
    /// In the order given; the first is held against the last.
    pub drafts: Vec<DraftInput>,
    pub title: Option<String>,
    /// What changed, in one sentence.
    pub summary: String,
    pub compare: Compare,
}

/// The files of one draft.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DraftInput {
    pub name: String,
    /// The score's, in order of movements, then those of parts.
    pub input: Vec<Input>,
    /// Files that were left out, and why.
    pub set_aside: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Compare {
    /// Why only pages were compared: "no-music", "other-pieces", "no-common-part"; null where the music was compared, too.
    pub pages_only: Option<String>,
    /// Share of the bars of both drafts that have a partner, from 0 to 1; null where music was not compared.
    pub share_matched: Option<f64>,
    /// In the order of the new draft, those left out where they stood.
    pub parts: Vec<Part>,
    /// Every bar of either draft once, in the order of the new one, those taken out where they stood.
    pub bars: Vec<Bar>,
    /// Of the score: the old draft, the new one.
    pub figures: Vec<Figures>,
    /// Every page of the new draft with the one that held most of it.
    pub pages: Vec<PagePair>,
    /// Bars of both drafts that lie open beside other music than before; null where music was not compared.
    pub other_opening: Option<u32>,
    /// Passages whose density changed beyond doubt.
    pub density: Vec<Density>,
    /// Turns that leave too little time, in either draft.
    pub turns: Vec<Turn>,
    /// Place by place.
    pub findings: Vec<FoundPlace>,
    /// The score first, then the parts.
    pub reprint: Vec<Reprint>,
    /// What can be written in by hand.
    pub errata: Vec<Erratum>,
    /// One row a draft.
    pub trend: Vec<Trend>,
}

impl CompareReport {
    #[must_use]
    pub fn of(compared: &Compared) -> CompareReport {
        let pages_only = compared.pages_only.map(|why| {
            match why {
                PagesOnly::NoMusic => "no-music",
                PagesOnly::OtherPieces(_) => "other-pieces",
                PagesOnly::NoCommonPart => "no-common-part",
            }
            .to_owned()
        });
        let has_music = pages_only.is_none();
        let compare = Compare {
            share_matched: has_music.then(|| rounded(compared.music.share_matched())),
            parts: music::parts(compared),
            bars: music::bars(compared),
            figures: vec![Figures::of(&compared.pages.old), Figures::of(&compared.pages.new)],
            pages: compared.pages.pairs.iter().map(PagePair::of).collect(),
            other_opening: has_music.then(|| u32::try_from(compared.pages.other_opening).unwrap_or(u32::MAX)),
            density: compared.pages.density.iter().map(Density::of).collect(),
            turns: pages::turns(compared),
            findings: pages::findings(compared),
            reprint: compared.reprint.iter().map(|own| Reprint::of(own, compared)).collect(),
            errata: printed::errata(compared),
            trend: compared.trend.iter().map(Trend::of).collect(),
            pages_only,
        };
        CompareReport {
            schema: VERSION.to_owned(),
            drafts: compared.drafts.iter().map(DraftInput::of).collect(),
            title: compared.sides().and_then(|(_, new)| new.checked.score.title.clone()),
            summary: super::words::headline(compared),
            compare,
        }
    }
}

impl DraftInput {
    fn of(draft: &Draft) -> DraftInput {
        let parts = draft.parts.iter().flat_map(|parts| &parts.sources);
        let aside = draft.parts.iter().flat_map(|parts| &parts.set_aside);
        DraftInput {
            name: draft.name.clone(),
            input: draft.checked.sources.iter().chain(parts).map(Input::of).collect(),
            set_aside: aside.map(ToString::to_string).collect(),
        }
    }
}

/// To a ten-thousandth: machines agree.
fn rounded(value: f64) -> f64 {
    (value * 1e4).round() / 1e4
}

/// "score", or the player's name.
fn document(reader: Reader, compared: &Compared) -> String {
    match reader {
        Reader::Conductor => "score".to_owned(),
        Reader::Player(at) => compared.players.get(at).map_or_else(String::new, |player| player.name.clone()),
    }
}
