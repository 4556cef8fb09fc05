//! Parts held against their score: whose each file is, what differs, and whether the sheets may go on the stands.

use super::parts::files::{self, PartFiles};
use super::parts::one::Whole;
use super::parts::options::Stands;
use super::parts::{PartsOptions, SetAside, SheetChecked};
use super::{AcceptedFile, CheckError, Stage, Watch};
use crate::accepted::differences::{self, Sorted};
use crate::accepted::{self, Entry};
use crate::casting_off::{self, House};
use crate::guidelines::{Guidelines, Weight};
use crate::layout::Record;
use crate::metrics::Metrics;
use crate::place::BarSpan;
use crate::players::{self, Player};
use crate::proof::{self, Difference, Line, Proof};
use crate::read::{self, Input, Reading, SourceInfo};
use crate::remarks::Remark;
use crate::rules::{self, Case, Finding};
use crate::score::Score;
use crate::survey;

mod lines;
mod matched;

use lines::Lines;

/// What is asked.
#[derive(Clone, Debug, Default)]
pub struct ProofOptions {
    /// As for `parts`: the parts list, guidelines, how the sheets lie on the stand.
    pub parts: PartsOptions,
    /// Files, by name, and the parts they are, where that is not left to the notes.
    pub map: Vec<(String, String)>,
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
    let mut errors = Vec::new();
    let own = &options.parts;
    let guidelines = Guidelines::load(&own.guidelines)
        .map_err(|wrong| errors.extend(wrong.0.into_iter().map(CheckError::Guidelines)));
    let stands = Stands::of(own).map_err(|wrong| errors.extend(wrong));
    let accepted = super::accepted(own.accepted.as_ref()).map_err(|wrong| errors.extend(wrong));
    let may_stay = super::accepted(options.accepted.as_ref()).map_err(|wrong| errors.extend(wrong));
    watch.begins(Stage::Reading);
    let sorted = files::sort(inputs, &own.limits);
    let reading =
        read::read(&sorted.score, &own.limits).map_err(|wrong| errors.extend(wrong.into_iter().map(CheckError::Read)));
    let (Ok(guidelines), Ok(stands), Ok(accepted), Ok(may_stay)) = (guidelines, stands, accepted, may_stay) else {
        return Err(errors);
    };
    let Ok(reading) = reading else { return Err(errors) };
    let Reading { score, record, remarks, mut sources } = reading;
    if score.is_outline() {
        return Err(vec![CheckError::NoParts]);
    }
    if sorted.parts.is_empty() {
        watch.begins(Stage::Judging);
        let alone = Some(alone(&score, &record, &guidelines, &may_stay));
        return Ok(Proofed { sources, score, parts: Vec::new(), set_aside: Vec::new(), remarks, guidelines, alone });
    }
    let (list, mut set_aside) = super::parts::parts_list(own);
    let drawn = players::draw(&score, list.as_ref());
    set_aside.extend(drawn.unknown.into_iter().map(|unknown| SetAside::in_list(own, &unknown)));
    let wanted = super::parts::wanted(&drawn.players, &own.only)?;
    let lines = Lines::of(&score, drawn.players, &wanted);
    let parts = matched::read(&sorted.parts, &own.limits, &mut set_aside);
    sources.extend(parts.iter().map(|part| part.source.clone()));
    watch.begins(Stage::Proofing);
    let mut matched = matched::matched(&lines, &parts, &options.map, &score, &mut set_aside)?;
    let mut proofed =
        Proofed { sources, parts: Vec::new(), set_aside, remarks, guidelines, alone: None, score: Score::default() };
    let mut players = Vec::new();
    for (at, line) in lines.all.iter().enumerate() {
        let files = matched.remove(&at).unwrap_or_default();
        let files: Vec<(usize, PartFile)> = files
            .into_iter()
            .map(|own| {
                let part = parts.get(own.file).map(|part| &part.score);
                let line = Line { score: &score, player: &line.player, bars: own.bars };
                let music = part.cloned().unwrap_or_default();
                let mut proof = part.map(|part| proof::proof(&line, part)).unwrap_or_default();
                let found = std::mem::take(&mut proof.differences);
                let Sorted { kept, accepted } = differences::sort(found, &line.player.name, &score, &may_stay);
                proof.differences = kept;
                let name = parts.get(own.file).map_or_else(String::new, |part| part.name.clone());
                let input = parts.get(own.file).map_or(usize::MAX, |part| part.input);
                (input, PartFile { name, bars: own.bars, music, proof, accepted, first_number: 0, doubt: own.doubt })
            })
            .collect();
        // A section's part is either one or one for each of its staves.
        if files.is_empty() && (line.is_one_of_several || lines.has_own_staves(at, &matched)) {
            continue;
        }
        players.push((at, files));
    }
    watch.begins(Stage::Judging);
    let whole = Whole::of(&score, &proofed.guidelines, &accepted);
    let sheets = Sheets { whole, stands: &stands, inputs: &sorted.parts, parts: &parts, options: own };
    for (at, files) in players {
        let Some(line) = lines.all.get(at) else { continue };
        let numbers: Vec<usize> = files.iter().map(|(number, _)| *number).collect();
        let files: Vec<PartFile> = files.into_iter().map(|(_, file)| file).collect();
        let not_there = not_there(&score, &line.player, &files);
        let verdict = verdict(&files, &not_there);
        let (sheet, sheet_not_read) = match sheets.of(&line.player, &files, &numbers) {
            None => (None, None),
            Some(Ok(sheet)) => (Some(sheet), None),
            Some(Err(aside)) => (None, Some(aside.why)),
        };
        proofed.parts.push(ProofedPart {
            player: line.player.clone(),
            verdict,
            files,
            not_there,
            sheet,
            sheet_not_read,
        });
    }
    drop(sheets);
    proofed.score = score;
    let mut number = 1;
    for file in proofed.parts.iter_mut().flat_map(|part| &mut part.files) {
        file.first_number = number;
        number += file.proof.differences.len();
    }
    Ok(proofed)
}

/// What parts would inherit from the score.
fn alone(score: &Score, record: &Record, guidelines: &Guidelines, may_stay: &[Entry]) -> Vec<Finding> {
    let metrics = Metrics::of(score);
    let layout = casting_off::pages(score, &metrics, record, &House::default());
    let survey = survey::survey(score, &layout, &metrics.extents);
    let case = Case { score, layout: &layout, survey: &survey, proposal: None, part: None, print_on: None };
    let judged = rules::judge_music(&case, guidelines);
    accepted::apply(judged.findings, may_stay, score).kept
}

/// Movements in which the player has notes and no file.
fn not_there(score: &Score, player: &Player, files: &[PartFile]) -> Vec<BarSpan> {
    let plays = |bars: BarSpan| {
        let staves = player.music.staves.len();
        let cells = player.music.cells.get(bars.first.at() * staves..(bars.last.at() + 1) * staves);
        cells.unwrap_or_default().iter().any(crate::score::Cell::sounds)
    };
    let movements = score.movements.iter().map(|movement| movement.bars);
    movements.filter(|bars| plays(*bars) && !files.iter().any(|file| file.bars.contains(bars.first))).collect()
}

/// That of the worst file.
fn verdict(files: &[PartFile], not_there: &[BarSpan]) -> Verdict {
    let missing = if not_there.is_empty() { Verdict::Tacet } else { Verdict::NotThere };
    files.iter().map(PartFile::verdict).max().unwrap_or(missing)
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

/// What judging the pages of parts needs.
struct Sheets<'a> {
    whole: Whole<'a>,
    stands: &'a Stands,
    inputs: &'a [Input<'a>],
    parts: &'a [matched::Part],
    options: &'a PartsOptions,
}

/// Rules that say of a part what the proof has said better.
const SAID: [&str; 4] =
    ["cue-not-what-is-played", "cue-ends-too-soon", "multi-bar-rest-not-split", "parts-of-unequal-length"];

impl Sheets<'_> {
    /// The pages of a player's files; `None` where there are no files.
    fn of(&self, player: &Player, files: &[PartFile], numbers: &[usize]) -> Option<Result<SheetChecked, SetAside>> {
        if files.is_empty() {
            return None;
        }
        let names: Vec<String> = files.iter().map(|file| file.name.clone()).collect();
        let alone = numbers.first().filter(|_| numbers.len() == 1);
        let own = match alone.and_then(|number| self.parts.iter().find(|part| part.input == *number)) {
            Some(part) => PartFiles { names, score: part.score.clone(), record: part.record.clone() },
            // Movements are one part only when they are read together.
            None => {
                let inputs = numbers.iter().filter_map(|number| self.inputs.get(*number).copied());
                let reading = read::read(&inputs.collect::<Vec<_>>(), &self.options.limits).ok()?;
                PartFiles { names, score: reading.score, record: reading.record }
            }
        };
        let mut sheet = if own.score.bars.len() == self.whole.bars() {
            self.whole.sheet(player, self.stands, own)
        } else {
            // Some bars or movements are not there: its pages are judged for themselves.
            let music = own.score.clone();
            self.whole.of_other(&music).sheet(player, self.stands, own)
        };
        if let Ok(sheet) = &mut sheet {
            sheet.findings.retain(|finding| !SAID.contains(&finding.rule));
        }
        Some(sheet)
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
