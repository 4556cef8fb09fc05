//! Parts held against their score: whose each file is, what differs, and whether the sheets may go on the stands.

use super::parts::files;
use super::parts::options::Stands;
use super::parts::{PartsOptions, SetAside, SheetChecked};
use super::{AcceptedFile, CheckError, PagesFile, Stage, Watch};
use crate::accepted::Entry;
use crate::guidelines::{Guidelines, Weight};
use crate::place::BarSpan;
use crate::players::{self, Player};
use crate::proof::{Difference, Proof};
use crate::read::{self, Input, Reading, SourceInfo};
use crate::remarks::Remark;
use crate::rules::Finding;
use crate::score::Score;

mod alone;
mod held;
mod lines;
mod matched;
mod printed;
mod sheets;

pub use printed::PrintedProof;

use lines::Lines;
use sheets::Sheets;

/// What is asked.
#[derive(Clone, Debug, Default)]
pub struct ProofOptions {
    /// As for `parts`: the parts list, guidelines, how the sheets lie on the stand.
    pub parts: PartsOptions,
    /// Files, by name, and the parts they are, where that is not left to the notes.
    pub map: Vec<(String, String)>,
    /// Printed pages of the score; those of parts stand with `parts`.
    pub pages: Vec<PagesFile>,
    /// Differences that may stay.
    pub accepted: Option<AcceptedFile>,
}

/// What came of it.
#[derive(Clone, Debug)]
pub struct Proofed {
    /// The files of the score, in order of movements, then those of parts.
    pub sources: Vec<SourceInfo>,
    pub score: Score,
    /// In score order.
    pub parts: Vec<ProofedPart>,
    /// Files that are no part of the score, or cannot be read; the rest went on.
    pub set_aside: Vec<SetAside>,
    pub remarks: Vec<Remark>,
    pub guidelines: Guidelines,
    /// No files of parts were given: the score was looked at alone.
    pub alone: Option<Vec<Finding>>,
    /// Printed pages, each with the bars that stand on them.
    pub printed: Vec<PrintedProof>,
}

/// One player.
#[derive(Clone, Debug)]
pub struct ProofedPart {
    pub player: Player,
    pub verdict: Verdict,
    /// In order of movements.
    pub files: Vec<PartFile>,
    /// Movements in which the player has notes and no file.
    pub not_there: Vec<BarSpan>,
    /// The pages; `None` where the files record none.
    pub sheet: Option<SheetChecked>,
    /// Why the pages were not looked at.
    pub sheet_not_read: Option<String>,
}

/// One file of a part.
#[derive(Clone, Debug)]
pub struct PartFile {
    pub name: String,
    /// Of the score, that it was held against.
    pub bars: BarSpan,
    /// Its own music, for its bar numbers.
    pub music: Score,
    /// What came of it, without what was accepted before.
    pub proof: Proof,
    /// Differences that were accepted before, each with the entry that says so.
    pub accepted: Vec<(Difference, Entry)>,
    /// The number of its first difference, through all parts from 1.
    pub first_number: usize,
    /// Another player whose part it could as well be.
    pub doubt: Option<String>,
}

/// What can be said of a part in a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Everything that was compared is the same.
    Same,
    /// The same as far as the score tells.
    CannotTell,
    Differs,
    /// So much differs that it was made from another draft.
    OtherDraft,
    /// The player has notes and no file.
    NotThere,
    /// The player has no notes, and needs no file.
    Tacet,
}

/// So much of what the player plays is the same in a part of this draft; else, with so many faults, it is another's.
const OF_THIS_DRAFT: f64 = 0.85;
const FAULTS_OF_A_DRAFT: usize = 6;
const BARS_OF_A_DRAFT: u32 = 8;

/// Reads a score and files of its parts, and holds them against each other.
///
/// # Errors
/// Everything that keeps it from working. A part that cannot be read is set aside.
pub fn proof(inputs: &[Input<'_>], options: &ProofOptions, watch: &mut dyn Watch) -> Result<Proofed, Vec<CheckError>> {
    let own = &options.parts;
    let against = Against::of(options);
    watch.begins(Stage::Reading);
    let sorted = files::sort(inputs, &own.limits);
    let (against, reading) = match (against, read::read(&sorted.score, &own.limits)) {
        (Ok(against), Ok(reading)) => (against, reading),
        (against, reading) => {
            let mut errors = against.err().unwrap_or_default();
            errors.extend(reading.err().into_iter().flatten().map(CheckError::Read));
            return Err(errors);
        }
    };
    let Reading { score, record, remarks, mut sources } = reading;
    if score.is_outline() {
        return Err(vec![CheckError::NoParts]);
    }
    let (list, mut set_aside) = super::parts::parts_list(own);
    if sorted.parts.is_empty() {
        let printed = if own.pages.is_empty() {
            printed::printed(options, &score, &[])?
        } else {
            printed::printed(options, &score, &players::draw(&score, list.as_ref()).players)?
        };
        watch.begins(Stage::Judging);
        let alone = Some(alone::findings(&score, &record, &against));
        let (parts, guidelines) = (Vec::new(), against.guidelines);
        return Ok(Proofed { sources, score, parts, set_aside, remarks, guidelines, alone, printed });
    }
    let drawn = players::draw(&score, list.as_ref());
    set_aside.extend(drawn.unknown.into_iter().map(|unknown| SetAside::in_list(own, &unknown)));
    let printed = printed::printed(options, &score, &drawn.players)?;
    let wanted = super::parts::wanted(&drawn.players, &own.only)?;
    let lines = Lines::of(&score, drawn.players, &wanted);
    let read = matched::read(&sorted.parts, &own.limits, &mut set_aside);
    sources.extend(read.iter().map(|part| part.source.clone()));
    watch.begins(Stage::Proofing);
    let matched = matched::matched(&lines, &read, &options.map, &score, &mut set_aside)?;
    let held = held::held(&score, &lines, matched, &read, &against);
    watch.begins(Stage::Judging);
    let sheets = Sheets::of(&score, &against, &sorted.parts, &read, own);
    let mut parts: Vec<ProofedPart> = held.into_iter().map(|held| held.with_sheet(&score, &sheets)).collect();
    drop(sheets);
    let mut number = 1;
    for file in parts.iter_mut().flat_map(|part| &mut part.files) {
        file.first_number = number;
        number += file.proof.differences.len();
    }
    let guidelines = against.guidelines;
    Ok(Proofed { sources, score, parts, set_aside, remarks, guidelines, alone: None, printed })
}

/// What it is held against, besides the score.
struct Against {
    guidelines: Guidelines,
    stands: Stands,
    /// Findings on the sheets, and differences, that may stay.
    accepted: Vec<Entry>,
    may_stay: Vec<Entry>,
}

impl Against {
    fn of(options: &ProofOptions) -> Result<Against, Vec<CheckError>> {
        let mut errors = Vec::new();
        let own = &options.parts;
        let guidelines = Guidelines::load(&own.guidelines)
            .map_err(|wrong| errors.extend(wrong.0.into_iter().map(CheckError::Guidelines)));
        let stands = Stands::of(own).map_err(|wrong| errors.extend(wrong));
        let accepted = super::accepted(own.accepted.as_ref()).map_err(|wrong| errors.extend(wrong));
        let may_stay = super::accepted(options.accepted.as_ref()).map_err(|wrong| errors.extend(wrong));
        match (guidelines, stands, accepted, may_stay) {
            (Ok(guidelines), Ok(stands), Ok(accepted), Ok(may_stay)) => {
                Ok(Against { guidelines, stands, accepted, may_stay })
            }
            _ => Err(errors),
        }
    }
}

impl PartFile {
    /// What can be said of this file in a word.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let (all, same) = self.proof.playing;
        let faults = self.proof.differences.iter().filter(|own| own.weight() == Weight::Stop).count();
        if all >= BARS_OF_A_DRAFT && faults >= FAULTS_OF_A_DRAFT && f64::from(same) < OF_THIS_DRAFT * f64::from(all) {
            Verdict::OtherDraft
        } else if !self.proof.differences.is_empty() {
            Verdict::Differs
        } else if !self.proof.cannot_tell.is_empty() {
            Verdict::CannotTell
        } else {
            Verdict::Same
        }
    }
}

impl ProofedPart {
    /// How many faults of its pages are to be mended before the concert.
    #[must_use]
    pub fn to_mend(&self) -> usize {
        let findings = self.sheet.iter().flat_map(|sheet| &sheet.findings);
        findings.filter(|finding| finding.weight >= Weight::Mend).count()
    }
}

impl Proofed {
    /// Everything that was found wrong, by player and file.
    pub fn differences(&self) -> impl Iterator<Item = (&ProofedPart, &PartFile, &Difference)> {
        self.parts.iter().flat_map(|part| {
            part.files.iter().flat_map(move |file| file.proof.differences.iter().map(move |own| (part, file, own)))
        })
    }
}
