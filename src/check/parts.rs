//! The players' parts of a score: drawn from it, laid out with turns where hands are free, and held against the
//! guidelines.

use crate::accepted::{Entry, Lapse};
use crate::casting_off::part::{PartPages, Stand};
use crate::check::{self, CheckError, Stage, Watch};
use crate::guidelines::Guidelines;
use crate::join::Fit;
use crate::layout::Layout;
use crate::players::blocks::Block;
use crate::players::end_to_end::EndToEnd;
use crate::players::turning::TurnPoint;
use crate::players::{self, PartsList, Player};
use crate::read::{self, Input, Reading, SourceInfo};
use crate::remarks::Remark;
use crate::rules::Finding;
use crate::score::Score;
use crate::survey::{self, BackwardTurn, Timeline, Turn};
use crate::units::Mm;

pub(super) mod files;
pub(super) mod one;
pub(super) mod options;
pub(super) mod printed;

use one::{Own, Whole};
use options::Stands;

pub use options::{PartsListFile, PartsOptions};

/// All parts of a work.
#[derive(Clone, Debug)]
pub struct PartsChecked {
    /// The files of the score, in order of movements, then those of parts.
    pub sources: Vec<SourceInfo>,
    pub score: Score,
    /// Places of the score's files among the inputs, in order of movements.
    pub score_at: Vec<usize>,
    /// Landmarks of the whole work.
    pub timeline: Timeline,
    /// In score order.
    pub parts: Vec<PartChecked>,
    /// What was asked for and could not be done; the rest went on.
    pub set_aside: Vec<SetAside>,
    /// Rules that ran on at least one part.
    pub ran: Vec<&'static str>,
    /// Rules that the files tell too little for, with what they would need, in words.
    pub could_not_run: Vec<(&'static str, String)>,
    pub remarks: Vec<Remark>,
    pub guidelines: Guidelines,
}

/// A file, or an entry of a parts list, that was left out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAside {
    /// The file, with the line where there is one.
    pub name: String,
    /// "this is no part of the score".
    pub why: String,
}

/// One part.
#[derive(Clone, Debug)]
pub struct PartChecked {
    pub player: Player,
    pub blocks: Vec<Block>,
    /// One entry a bar.
    pub points: Vec<TurnPoint>,
    pub whole: EndToEnd,
    pub stand: Stand,
    /// The pages of its own file, where one was given.
    pub recorded: Option<RecordedPart>,
    /// The best pages found.
    pub proposed: Turned,
    /// Pages filled one after the other, as without a thought for turns; the proposed ones where drafts are compared.
    pub filled: Turned,
    pub findings: Vec<Finding>,
    /// Each with the entry that says that it may stay.
    pub accepted: Vec<(Finding, Entry)>,
    /// Entries that accept nothing any more.
    pub lapsed: Vec<(Entry, Lapse)>,
}

/// Pages with their turns.
#[derive(Clone, Debug, PartialEq)]
pub struct Turned {
    pub pages: PartPages,
    pub turns: Vec<Turn>,
    /// Back to where repeats begin.
    pub backward: Vec<BackwardTurn>,
}

/// A part as its own files have it.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordedPart {
    /// Names of the files, without their folders.
    pub files: Vec<String>,
    /// Bars are those of the full score.
    pub layout: Layout,
    pub turns: Vec<Turn>,
    pub backward: Vec<BackwardTurn>,
    /// How its pages fit the music, where they are printed ones.
    pub fit: Option<Fit>,
}

/// The pages of a part's own files, judged.
#[derive(Clone, Debug)]
pub struct SheetChecked {
    /// As the files have it; findings and pages speak of its bars.
    pub music: Score,
    pub recorded: RecordedPart,
    pub findings: Vec<Finding>,
    /// How many more there are that were accepted before.
    pub accepted: usize,
}

impl PartChecked {
    /// The pages that are judged: those of its own file, or else the proposed ones.
    #[must_use]
    pub fn layout(&self) -> &Layout {
        self.recorded.as_ref().map_or(&self.proposed.pages.layout, |own| &own.layout)
    }

    /// Of the first of these pages; width, height.
    #[must_use]
    pub fn paper(&self) -> (Mm, Mm) {
        self.layout().pages.first().map_or(self.stand.paper, |page| page.size.value)
    }

    /// Of the first staff on them.
    #[must_use]
    pub fn staff_height(&self) -> Mm {
        let first = self.layout().systems().find_map(|(_, _, system)| system.staves.first());
        first.map_or(self.stand.staff_height, |staff| staff.height)
    }
}

/// Reads a score, and parts of it where there are any; the score's files stand first, in order of movements.
///
/// # Errors
/// Everything that keeps it from working. A part that cannot be read is set aside.
pub fn parts(
    inputs: &[Input<'_>],
    options: &PartsOptions,
    watch: &mut dyn Watch,
) -> Result<PartsChecked, Vec<CheckError>> {
    let mut errors = Vec::new();
    let guidelines = Guidelines::load(&options.guidelines)
        .map_err(|wrong| errors.extend(wrong.0.into_iter().map(CheckError::Guidelines)));
    let stands = Stands::of(options).map_err(|wrong| errors.extend(wrong));
    let accepted = check::accepted(options.accepted.as_ref()).map_err(|wrong| errors.extend(wrong));
    watch.begins(Stage::Reading);
    let sorted = files::sort(inputs, &options.limits);
    let reading = read::read(&sorted.score, &options.limits)
        .map_err(|wrong| errors.extend(wrong.into_iter().map(CheckError::Read)));
    let (Ok(guidelines), Ok(stands), Ok(accepted), Ok(reading)) = (guidelines, stands, accepted, reading) else {
        return Err(errors);
    };
    let Reading { score, remarks, sources, .. } = reading;
    let against = AgainstParts { guidelines: &guidelines, stands: &stands, accepted: &accepted, beside: true };
    let mut checked = of_score(&score, &sorted.parts, options, &against, watch)?;
    checked.sources.splice(0..0, sources);
    checked.remarks = remarks;
    checked.score_at = sorted.score_at;
    checked.score = score;
    Ok(checked)
}

/// What parts are held against.
pub(super) struct AgainstParts<'a> {
    pub guidelines: &'a Guidelines,
    pub stands: &'a Stands,
    pub accepted: &'a [Entry],
    /// Pages filled without a thought for turns are wanted beside the proposed ones.
    pub beside: bool,
}

/// The parts of a score that was read; sources are those of the parts alone, and the score is left with the caller.
pub(super) fn of_score(
    score: &Score,
    files: &[Input<'_>],
    options: &PartsOptions,
    against: &AgainstParts<'_>,
    watch: &mut dyn Watch,
) -> Result<PartsChecked, Vec<CheckError>> {
    if score.is_outline() {
        return Err(vec![CheckError::NoParts]);
    }
    let (list, mut set_aside) = parts_list(options);
    let drawn = players::draw(score, list.as_ref());
    set_aside.extend(drawn.unknown.into_iter().map(|unknown| SetAside::in_list(options, &unknown)));
    watch.begins(Stage::CastingOff);
    let mut matched = files::matched(files, score, &drawn.players, &options.limits);
    set_aside.append(&mut matched.set_aside);
    let mut printed = printed::measure(options, &drawn.players)?;
    let whole = Whole::of(score, against.guidelines, against.accepted);
    let whole = if against.beside { whole } else { whole.plain() };
    let mut checked = PartsChecked {
        sources: matched.sources,
        timeline: survey::timeline(score),
        parts: Vec::new(),
        set_aside,
        ran: Vec::new(),
        could_not_run: Vec::new(),
        remarks: Vec::new(),
        guidelines: against.guidelines.clone(),
        score: Score::default(),
        score_at: Vec::new(),
    };
    let wanted = wanted(&drawn.players, &options.only)?;
    let mut own = |at: usize| match printed.remove(&at) {
        Some(pages) => Own::Pages(pages),
        None => matched.files.remove(&at).map_or(Own::Nothing, |files| Own::Files(Box::new(files))),
    };
    for (at, player) in drawn.players.into_iter().enumerate() {
        if wanted.contains(&at) {
            let part = whole.part(player, against.stands, own(at), &mut checked);
            checked.parts.extend(part);
        }
    }
    Ok(checked)
}

/// The players that are asked for; all where none is named.
pub(super) fn wanted(players: &[Player], only: &[String]) -> Result<Vec<usize>, Vec<CheckError>> {
    if only.is_empty() {
        return Ok((0..players.len()).collect());
    }
    let (mut wanted, mut errors) = (Vec::new(), Vec::new());
    for name in only {
        let folded = name.trim().to_lowercase();
        let exact = players.iter().position(|player| player.name.to_lowercase() == folded);
        let found: Vec<usize> = match exact {
            Some(at) => vec![at],
            None => {
                let begins = |player: &Player| player.name.to_lowercase().starts_with(&folded);
                players.iter().enumerate().filter(|(_, player)| begins(player)).map(|(at, _)| at).collect()
            }
        };
        if found.is_empty() {
            let names = players.iter().map(|player| player.name.clone()).collect();
            errors.push(CheckError::UnknownPart { name: name.clone(), names });
        }
        wanted.extend(found);
    }
    if errors.is_empty() { Ok(wanted) } else { Err(errors) }
}

/// The list as far as it can be read.
pub(super) fn parts_list(options: &PartsOptions) -> (Option<PartsList>, Vec<SetAside>) {
    let Some(file) = &options.list else { return (None, Vec::new()) };
    match PartsList::parse(&file.text) {
        Ok(list) => (Some(list), Vec::new()),
        Err(wrong) => {
            let aside = |error: players::PartsListError| SetAside::in_list(options, &error);
            (None, wrong.into_iter().map(aside).collect())
        }
    }
}

impl SetAside {
    pub(super) fn of(error: &CheckError) -> SetAside {
        let text = error.to_string();
        let (name, why) = text.split_once(": ").unwrap_or(("", &text));
        SetAside { name: name.to_owned(), why: why.to_owned() }
    }

    pub(super) fn in_list(options: &PartsOptions, error: &players::PartsListError) -> SetAside {
        let file = options.list.as_ref().map_or("", |list| list.name.as_str());
        SetAside { name: format!("{file}:{}", error.line), why: error.what.clone() }
    }
}

impl std::fmt::Display for SetAside {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.name, self.why)
    }
}
