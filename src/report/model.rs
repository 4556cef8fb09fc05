//! The published JSON: what a program reads of a report. Its schema comes from these types.
//!
//! Indices count from 0, lengths are millimetres rounded to a thousandth, times seconds rounded to a
//! thousandth. What is not known is null, never 0. Files appear by name, never by path.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::check::Checked;
use crate::read::SourceInfo;
use crate::reference::Difference;

mod expected;
mod findings;
mod fit;
mod house;
mod layout;
mod music;
mod notes;
mod proposal;
mod what_if;

pub use expected::{ExpectedError, Within};
pub use findings::{Acceptance, CouldNotRun, Counts, Finding, Place, Rules};
pub use fit::{Match, MissingBars, PageMatch, PageStatus, PrintedPages, SystemMatch};
pub use house::{House, Margins, StavesShown};
pub use layout::{
    Footing, Layout, Opening, OriginName, OriginOf, Page, PageKind, PrintedBar, PrintedStaff, SideName, System,
};
pub use music::{Bar, Movement, Part, Score};
pub use notes::{Note, NoteKind};
pub use proposal::{Proposal, ProposalNote, ProposalNoteKind};
pub use what_if::WhatIfCell;

/// Version of the published JSON; a new one whenever a reader of the last one could break.
pub const VERSION: &str = "rastrum-report-1";

/// One report.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Report {
    /// "rastrum-report-1".
    pub schema: String,
    /// The files, in order of movements.
    pub input: Vec<Input>,
    pub score: Score,
    /// The printed pages that were looked at; null where the pages are the files' own.
    #[serde(default)]
    pub printed: Option<PrintedPages>,
    /// How they fit the music; null where there are no printed pages, or no music.
    #[serde(default)]
    pub r#match: Option<Match>,
    /// What forecast and proposed pages rest on; null in older reports.
    #[serde(default)]
    pub house: Option<House>,
    pub layout: Layout,
    pub openings: Vec<Opening>,
    /// Pages that would be better, as far as can be estimated; null when none were found.
    #[serde(default)]
    pub proposal: Option<Proposal>,
    /// What to mend first comes first; the first is number 1 in reports and for accepting.
    pub findings: Vec<Finding>,
    pub counts: Counts,
    pub rules: Rules,
    /// Findings that stand, but were accepted before.
    pub accepted: Vec<Acceptance>,
    /// How the layout named with --like is set otherwise; null when none was named.
    #[serde(default)]
    pub like: Option<Vec<Difference>>,
    /// Other papers and staff heights; null when they were not asked for.
    #[serde(default)]
    pub what_if: Option<Vec<WhatIfCell>>,
    /// Oddities of the files, and accepted findings that lapsed.
    pub notes: Vec<Note>,
}

/// One input file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Input {
    /// File name without its folder.
    pub name: String,
    pub format: String,
    /// Bytes of its XML, unpacked.
    pub xml_bytes: u64,
}

impl Report {
    /// All that was found, ready to be written.
    #[must_use]
    pub fn of(checked: &Checked) -> Report {
        Report {
            schema: VERSION.to_owned(),
            input: checked.sources.iter().map(Input::of).collect(),
            score: Score::of(checked),
            printed: checked.printed.as_ref().map(PrintedPages::of),
            r#match: fit::of(checked),
            house: Some(House::of(checked)),
            layout: Layout::of(checked),
            openings: checked.survey.openings.iter().map(Opening::of).collect(),
            proposal: checked.proposal.as_ref().map(|proposal| Proposal::of(proposal, checked)),
            findings: checked.findings.iter().map(|finding| Finding::of(finding, &checked.score)).collect(),
            counts: Counts::of(checked),
            rules: Rules::of(checked),
            accepted: checked.accepted.iter().map(Acceptance::of).collect(),
            like: checked.like.clone(),
            what_if: what_if::of(checked),
            notes: notes::of(checked),
        }
    }
}

impl Input {
    pub(in crate::report) fn of(source: &SourceInfo) -> Input {
        Input { name: source.name.clone(), format: source.format.clone(), xml_bytes: source.xml_bytes }
    }
}

/// Rounded to a thousandth, the resolution of everything that is written.
fn thousandth(value: f64) -> f64 {
    crate::units::Mm(value).rounded().0
}
