//! The published JSON of proofed parts. Indices count from 0. What is not known is null, never 0.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{printed, words};
use crate::accepted::differences::entry_of;
use crate::accepted::{Entry, Fingerprint};
use crate::check::{self, PartFile, Proofed, ProofedPart};
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::proof;
use crate::report::model::{Finding, Input, Match};
use crate::report::parts::model::{PartFinding, SetAside};
use crate::rules::Weight;
use crate::score::Score;

/// Version of the published JSON.
pub const VERSION: &str = "rastrum-proof-1";

/// Parts held against their score.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ProofReport {
    /// "rastrum-proof-1".
    pub schema: String,
    /// The files of the score, in order of movements, then those of parts.
    pub input: Vec<Input>,
    pub title: Option<String>,
    pub proof: Proof,
    /// Files that are no part of the score, or cannot be read.
    pub set_aside: Vec<SetAside>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Proof {
    /// What was found in the score itself; null where it was not looked at alone.
    pub score: Option<Vec<PartFinding>>,
    /// In score order; of a player with several files one entry each, and one for each movement without a file.
    pub parts: Vec<Part>,
    /// The pages of the parts.
    pub sheets: Vec<Sheet>,
    /// Printed pages, the score's first.
    #[serde(default)]
    pub printed: Vec<Printed>,
}

/// Printed pages held against the score or against a player's line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Printed {
    pub file: String,
    /// The player; null of the score's pages.
    pub part: Option<String>,
    /// "84 bars printed, 92 composed: 8 missing after C."
    pub words: String,
    pub r#match: Match,
}

/// One file of one player.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Part {
    /// Null where there is none.
    pub file: Option<String>,
    /// The player.
    pub part: String,
    pub staves: Vec<StaffId>,
    /// Of the score.
    pub first_bar_index: Option<BarIdx>,
    pub last_bar_index: Option<BarIdx>,
    /// "same", "cannot-tell", "differs", "other-draft", "not-there" or "tacet".
    pub verdict: String,
    /// Another player whose part it could as well be.
    pub doubt: Option<String>,
    pub counts: Counts,
    pub differences: Vec<Difference>,
    /// Differences that stand, but were accepted before.
    pub accepted: Vec<Accepted>,
    pub cannot_tell: Vec<Told>,
    /// Written otherwise, and the same to the player.
    pub same_to_the_player: Vec<Told>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Counts {
    /// Held against each other.
    pub bars: u32,
    pub notes: u32,
    pub differences: u32,
    /// Bars in which a shared staff leaves open who plays.
    pub cannot_tell_bars: u32,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Difference {
    /// Counted from 1 through all parts.
    pub number: usize,
    /// `proof-class@bar/player/movement:bar/nth`, by which it is accepted.
    pub key: String,
    /// Of what both sides say: sixteen hexadecimal digits.
    pub music: String,
    /// Of the score; the first of a passage.
    pub bar_index: BarIdx,
    pub last_bar_index: BarIdx,
    /// As printed in the score.
    pub bar_label: String,
    /// As printed in the part; null where the part has no such bar.
    pub part_bar_label: Option<String>,
    /// Counted from 1 in beats of the metre: "3", "2 1/2"; null where it is about whole bars.
    pub beat: Option<String>,
    /// "missing-bars", "pitch", "dynamic" ...
    pub class: String,
    pub weight: Weight,
    pub score: String,
    pub part: String,
}

/// A difference that may stay.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Accepted {
    pub bar_index: BarIdx,
    pub class: String,
    pub score: String,
    pub part: String,
    pub by: String,
    pub why: String,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Told {
    pub bar_index: BarIdx,
    pub last_bar_index: BarIdx,
    pub bar_label: String,
    pub what: String,
}

/// The pages of one player's part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Sheet {
    pub part: String,
    /// Why they were not looked at; null where they were.
    pub not_read: Option<String>,
    pub pages: Option<u32>,
    /// Bars are those of the part's own file.
    pub findings: Vec<Finding>,
}

fn printed_pages(proofed: &Proofed) -> Vec<Printed> {
    let one = |(own, words): (&check::PrintedProof, String)| Printed {
        file: own.file.clone(),
        part: own.player.clone(),
        words,
        r#match: Match::of(&own.fit),
    };
    proofed.printed.iter().zip(printed::lines(proofed)).map(one).collect()
}

impl ProofReport {
    #[must_use]
    pub fn of(proofed: &Proofed) -> ProofReport {
        let aside = |own: &check::SetAside| SetAside { name: own.name.clone(), why: own.why.clone() };
        ProofReport {
            schema: VERSION.to_owned(),
            input: proofed.sources.iter().map(Input::of).collect(),
            title: proofed.score.title.clone(),
            proof: Proof {
                score: proofed.alone.as_ref().map(|found| of_score(found, &proofed.score)),
                parts: proofed.parts.iter().flat_map(|part| Part::all(part, &proofed.score)).collect(),
                sheets: proofed.parts.iter().filter_map(Sheet::of).collect(),
                printed: printed_pages(proofed),
            },
            set_aside: proofed.set_aside.iter().map(aside).collect(),
        }
    }
}

fn of_score(found: &[crate::rules::Finding], score: &Score) -> Vec<PartFinding> {
    let numbered = (1..).zip(found);
    numbered
        .map(|(number, finding)| PartFinding {
            number,
            music: Fingerprint::of(finding, score).to_string(),
            finding: Finding::of(finding, score),
        })
        .collect()
}

fn findings(found: &[crate::rules::Finding], music: &Score) -> Vec<Finding> {
    found.iter().map(|finding| Finding::of(finding, music)).collect()
}

impl Part {
    fn all(part: &ProofedPart, score: &Score) -> Vec<Part> {
        let empty = |bars: Option<BarSpan>, verdict: &str| Part {
            file: None,
            part: part.player.name.clone(),
            staves: part.player.staves.clone(),
            first_bar_index: bars.map(|bars| bars.first),
            last_bar_index: bars.map(|bars| bars.last),
            verdict: verdict.to_owned(),
            doubt: None,
            counts: Counts::default(),
            differences: Vec::new(),
            accepted: Vec::new(),
            cannot_tell: Vec::new(),
            same_to_the_player: Vec::new(),
        };
        let mut all: Vec<Part> = part.files.iter().map(|file| Part::of(part, file, score)).collect();
        all.extend(part.not_there.iter().map(|bars| empty(Some(*bars), "not-there")));
        if all.is_empty() {
            all.push(empty(None, "tacet"));
        }
        all
    }

    fn of(part: &ProofedPart, file: &PartFile, score: &Score) -> Part {
        let own = &file.proof;
        let told = |list: &[proof::Told]| list.iter().map(|told| Told::of(told, score)).collect::<Vec<_>>();
        Part {
            file: Some(file.name.clone()),
            part: part.player.name.clone(),
            staves: part.player.staves.clone(),
            first_bar_index: Some(file.bars.first),
            last_bar_index: Some(file.bars.last),
            verdict: words::verdict_name(file.verdict()).to_owned(),
            doubt: file.doubt.clone(),
            counts: Counts {
                bars: own.bars,
                notes: own.notes,
                differences: own.differences.len() as u32,
                cannot_tell_bars: own.cannot_tell.iter().map(|told| told.bars.count()).sum(),
            },
            differences: (0..own.differences.len())
                .filter_map(|at| Difference::of(at, &part.player.name, file, score))
                .collect(),
            accepted: file.accepted.iter().map(Accepted::of).collect(),
            cannot_tell: told(&own.cannot_tell),
            same_to_the_player: told(&own.same),
        }
    }
}

impl Difference {
    fn of(at: usize, player: &str, file: &PartFile, score: &Score) -> Option<Difference> {
        let (before, rest) = file.proof.differences.split_at_checked(at)?;
        let own = rest.first()?;
        let entry = entry_of(own, before, player, score);
        Some(Difference {
            number: file.first_number + at,
            key: entry.key(),
            music: entry.fingerprint.to_string(),
            bar_index: own.bars.first,
            last_bar_index: own.bars.last,
            bar_label: score.label(own.bars.first).to_owned(),
            part_bar_label: own.part_bars.map(|bars| file.music.label(bars.first).to_owned()),
            beat: words::beat(own, score),
            class: own.class.name().to_owned(),
            weight: own.weight(),
            score: own.score.clone(),
            part: own.part.clone(),
        })
    }
}

impl Accepted {
    fn of((own, entry): &(proof::Difference, Entry)) -> Accepted {
        Accepted {
            bar_index: own.bars.first,
            class: own.class.name().to_owned(),
            score: own.score.clone(),
            part: own.part.clone(),
            by: entry.who.clone(),
            why: entry.why.clone(),
        }
    }
}

impl Told {
    fn of(told: &proof::Told, score: &Score) -> Told {
        Told {
            bar_index: told.bars.first,
            last_bar_index: told.bars.last,
            bar_label: score.label(told.bars.first).to_owned(),
            what: told.what.clone(),
        }
    }
}

impl Sheet {
    fn of(part: &ProofedPart) -> Option<Sheet> {
        let not_read = part.sheet_not_read.clone();
        let sheet = part.sheet.as_ref();
        (sheet.is_some() || not_read.is_some()).then(|| Sheet {
            part: part.player.name.clone(),
            not_read,
            pages: sheet.map(|sheet| sheet.recorded.layout.pages.len() as u32),
            findings: sheet.map_or_else(Vec::new, |sheet| findings(&sheet.findings, &sheet.music)),
        })
    }
}
