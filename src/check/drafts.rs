//! Drafts of one piece: each read, laid out and judged as it is, then held against each other.

use super::parts::options::Stands;
use super::parts::{AgainstParts, files, of_score};
use super::{
    AcceptedFile, Asked, CheckError, Checked, Options, PagesFile, PartsChecked, PartsOptions, Stage, Watch, read_all,
};
use crate::compare::{self, FoundChange, Matched, Music, Pages};
use crate::guidelines::Request;
use crate::limits::Limits;
use crate::read::Input;
use crate::rules::Weight;

mod found;
mod in_place;
mod keep;
mod readers;
mod reprint;
mod trend;

use keep::Accepted;

pub use in_place::Replacement;
pub use readers::{PlayerPair, Reader, ReaderTurns};
pub use reprint::{Reprint, ReprintKind};
pub use trend::TrendRow;

/// One draft as it was given.
#[derive(Clone, Debug, Default)]
pub struct DraftFiles<'a> {
    /// As reports shall name it.
    pub name: String,
    /// The score's movements in order; files of parts among them are told apart by how few parts they list. Or one PDF.
    pub inputs: Vec<Input<'a>>,
    /// More files of parts; none of them is taken for a movement.
    pub parts: Vec<Input<'a>>,
    /// Printed pages of the score.
    pub pages: Option<PagesFile>,
    /// Printed pages of parts, each with the name of its part.
    pub part_pages: Vec<(String, PagesFile)>,
    pub accepted: Option<AcceptedFile>,
    pub accepted_of_parts: Option<AcceptedFile>,
}

/// What is asked of all drafts alike.
#[derive(Clone, Debug, Default)]
pub struct DraftsOptions {
    pub guidelines: Request,
    pub print_on: Option<String>,
    pub asked: Asked,
    /// How the parts lie on the stand; its pages and accepted findings stand with the drafts.
    pub parts: PartsOptions,
    /// Pages of the newest draft that can stay as they were, stay: the others are cast off between them.
    pub keep_pages: bool,
    pub limits: Limits,
}

/// One draft, with everything that was found out about it.
#[derive(Clone, Debug)]
pub struct Draft {
    pub name: String,
    pub checked: Checked,
    /// `None` of pages alone and of outlines.
    pub parts: Option<PartsChecked>,
}

/// What became of the first draft in the last one.
#[derive(Clone, Debug)]
pub struct Compared {
    /// In the order given; at least two. The first is held against the last.
    pub drafts: Vec<Draft>,
    /// Why music was not compared, where it was not.
    pub pages_only: Option<PagesOnly>,
    /// Empty where the music was not compared.
    pub music: Music,
    pub matched: Matched,
    /// In the order of the new draft.
    pub players: Vec<PlayerPair>,
    /// Of the score.
    pub pages: Pages,
    /// Readers of whose turns something is to be told.
    pub turns: Vec<ReaderTurns>,
    /// Each with whose document it stands in.
    pub findings: Vec<(Reader, FoundChange)>,
    /// The score first, then the parts.
    pub reprint: Vec<Reprint>,
    /// One row a draft.
    pub trend: Vec<TrendRow>,
}

/// Why two drafts were compared by their pages alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PagesOnly {
    /// Nobody gave the music.
    NoMusic,
    /// They have hardly anything in common: the share of the music that is alike, from 0 to 1.
    OtherPieces(f64),
    /// No part of the one is a part of the other.
    NoCommonPart,
}

/// Drafts of one piece have at least so much in common.
const ONE_PIECE: f64 = 0.15;

/// Reads all drafts, checks them, and holds the first against the last.
///
/// # Errors
/// Everything that keeps it from working, in any draft.
pub fn drafts(
    given: &[DraftFiles<'_>],
    options: &DraftsOptions,
    watch: &mut dyn Watch,
) -> Result<Compared, Vec<CheckError>> {
    let (mut drafts, mut errors) = (Vec::new(), Vec::new());
    for files in given {
        match draft(files, options, watch) {
            Ok(draft) => drafts.push(draft),
            Err(wrong) => errors.extend(wrong),
        }
    }
    let unseen = drafts.iter().filter(|draft| draft.checked.score.is_unseen()).count();
    if unseen > 0 && unseen < drafts.len() {
        errors.push(CheckError::PagesAgainstMusic);
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    watch.begins(Stage::Aligning);
    let last = given.last();
    let accepted = Accepted {
        score: super::accepted(last.and_then(|files| files.accepted.as_ref()))?,
        parts: super::accepted(last.and_then(|files| files.accepted_of_parts.as_ref()))?,
    };
    Ok(compared(drafts, options, &accepted))
}

fn draft(files: &DraftFiles<'_>, options: &DraftsOptions, watch: &mut dyn Watch) -> Result<Draft, Vec<CheckError>> {
    watch.begins(Stage::Reading);
    let mut sorted = files::sort_any(&files.inputs, &options.limits);
    sorted.parts.extend_from_slice(&files.parts);
    let of_score_options = Options {
        guidelines: options.guidelines.clone(),
        print_on: options.print_on.clone(),
        accepted: files.accepted.clone(),
        like: None,
        pages: files.pages.clone(),
        asked: options.asked.clone(),
        limits: options.limits,
    };
    let against = super::Against::of(&of_score_options)?;
    let (reading, measured) = read_all(&sorted.score, &of_score_options)?;
    if reading.score.bars.is_empty() {
        return Err(vec![CheckError::EmptyDraft(files.name.clone())]);
    }
    let checked = against.judge(reading, measured, watch).map_err(|error| vec![error])?;
    let has_parts = !checked.score.is_unseen() && !checked.score.is_outline();
    if !has_parts && !files.parts.is_empty() {
        return Err(vec![CheckError::PartsWithoutMusic(files.name.clone())]);
    }
    let parts = has_parts.then(|| parts(files, &sorted.parts, &checked, options, watch)).transpose()?;
    Ok(Draft { name: files.name.clone(), checked, parts })
}

fn parts(
    files: &DraftFiles<'_>,
    inputs: &[Input<'_>],
    checked: &Checked,
    options: &DraftsOptions,
    watch: &mut dyn Watch,
) -> Result<PartsChecked, Vec<CheckError>> {
    let own = PartsOptions { pages: files.part_pages.clone(), limits: options.limits, ..options.parts.clone() };
    let stands = Stands::of(&own)?;
    let accepted = super::accepted(files.accepted_of_parts.as_ref())?;
    let against = AgainstParts { guidelines: &checked.guidelines, stands: &stands, accepted: &accepted, beside: false };
    of_score(&checked.score, inputs, &own, &against, watch)
}

/// Holds the first draft against the last.
fn compared(mut drafts: Vec<Draft>, options: &DraftsOptions, accepted: &Accepted) -> Compared {
    let (music, pages_only) = match (drafts.first(), drafts.last()) {
        (Some(old), Some(new)) => music(old, new),
        _ => (Music::default(), Some(PagesOnly::NoMusic)),
    };
    let matched = Matched::of(&music);
    let has_music = pages_only.is_none();
    let (mut players, mut reprint) = (Vec::new(), Vec::new());
    if let Some(mut new) = drafts.pop() {
        if let Some(old) = drafts.first().filter(|_| has_music) {
            let lines = readers::Lines::of(old, &new);
            players = readers::players(old, &new, &lines);
            reprint = reprint::reprint(old, &new, (&music, &matched), &players, &lines, options.keep_pages);
            drop(lines);
            if options.keep_pages {
                new = keep::keep(old, new, &matched, &players, &reprint, accepted);
            }
        }
        drafts.push(new);
    }
    let (mut pages, mut turns, mut findings) = (Pages::default(), Vec::new(), Vec::new());
    if let (Some(old), Some(new)) = (drafts.first(), drafts.last()) {
        pages = compare::pages(&leaves(old), &leaves(new), has_music.then_some((&music, &matched)));
        if has_music {
            turns = readers::turns(old, new, &matched, &players);
            findings = found::findings(old, new, &music, &matched, &players);
        }
    }
    let trend = drafts.iter().map(trend::row).collect();
    Compared { drafts, pages_only, music, matched, players, pages, turns, findings, reprint, trend }
}

fn leaves(draft: &Draft) -> compare::Leaves<'_> {
    compare::Leaves { layout: &draft.checked.layout, survey: &draft.checked.survey }
}

/// The music of both, unless there is none, or they are no drafts of one piece.
fn music(old: &Draft, new: &Draft) -> (Music, Option<PagesOnly>) {
    let (one, other) = (&old.checked.score, &new.checked.score);
    if one.is_unseen() || other.is_unseen() {
        return (Music::default(), Some(PagesOnly::NoMusic));
    }
    let music = compare::music(one, other);
    if !music.parts.iter().any(|part| part.old.is_some() && part.new.is_some()) {
        return (Music::default(), Some(PagesOnly::NoCommonPart));
    }
    if music.alike < ONE_PIECE {
        return (Music::default(), Some(PagesOnly::OtherPieces(music.alike)));
    }
    (music, None)
}

impl Compared {
    /// The draft that others are held against, and the newest one.
    #[must_use]
    pub fn sides(&self) -> Option<(&Draft, &Draft)> {
        self.drafts.first().zip(self.drafts.last())
    }

    /// Whether the new draft has a fault of this weight or more that the old one had not, and nobody let stand.
    #[must_use]
    pub fn is_worse(&self, weight: Weight) -> bool {
        found::is_worse(&self.findings, weight)
    }
}
