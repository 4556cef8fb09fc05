//! The published JSON of parts. Indices count from 0, lengths are millimetres, times seconds, both rounded to a
//! thousandth. What is not known is null, never 0.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::found::{self, Found};
use super::{casting_off_line, words};
use crate::accepted::{Entry, Fingerprint, Lapse};
use crate::casting_off::part::Binding;
use crate::check::{PartChecked, PartsChecked, Turned};
use crate::layout::{Layout, Side};
use crate::place::{BarIdx, BarSpan, PartId, StaffId};
use crate::players::blocks::{Block, BlockKind};
use crate::players::end_to_end::{Passage, Silence};
use crate::players::turning::TurnClass;
use crate::report::model::{Acceptance, CouldNotRun, Finding, Input, Match, Rules, SideName};
use crate::score::{Family, Score};
use crate::survey::Turn;
use crate::units::{Mm, Seconds};

/// Version of the published JSON.
pub const VERSION: &str = "rastrum-parts-1";

/// All parts of a work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PartsReport {
    /// "rastrum-parts-1".
    pub schema: String,
    /// The files of the score, in order of movements, then those of parts.
    pub input: Vec<Input>,
    pub title: Option<String>,
    /// Seconds rest on an assumed tempo somewhere.
    pub tempo_assumed: bool,
    /// In score order.
    pub parts: Vec<Part>,
    pub rules: Rules,
    /// What was asked for and could not be done.
    pub set_aside: Vec<SetAside>,
}

/// One player's part, or one section's.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Part {
    pub name: String,
    pub family: Family,
    /// Which of those who share its staves, from 1; null where the staff is its own.
    pub player: Option<u16>,
    /// Indices of the score's staves that it is drawn from.
    pub staves: Vec<StaffId>,
    pub copies: u16,
    /// False while a shared staff does not tell some of its bars.
    pub deliverable: bool,
    /// The pages at hand: its own file's, or those proposed.
    pub layout: PartLayout,
    /// On those pages.
    pub turns: Vec<PartTurn>,
    /// The best pages found; null where they are the pages at hand.
    pub proposal: Option<Pages>,
    /// Pages filled one after the other.
    pub greedy: Pages,
    /// To set the proposed pages by.
    pub casting_off: String,
    pub timeline: Vec<Played>,
    pub rests: Vec<Rest>,
    pub cold_entries: Vec<BarIdx>,
    pub changes: Vec<Changed>,
    pub undecided: Vec<Undecided>,
    pub findings: Vec<PartFinding>,
    /// Findings that stand, but were accepted before.
    pub accepted: Vec<Acceptance>,
    pub lapsed: Vec<Lapsed>,
}

/// A finding in a part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PartFinding {
    /// Counted from 1 through all parts.
    pub number: u32,
    /// Of the music at its place: sixteen hexadecimal digits that change with it.
    pub music: String,
    #[serde(flatten)]
    pub finding: Finding,
}

/// An acceptance that no longer holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Lapsed {
    pub rule: String,
    pub by: String,
    pub why: String,
    /// What has changed.
    pub because: String,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PartLayout {
    /// "recorded", "printed" or "proposal".
    pub footing: String,
    /// How printed pages fit the music; null where they are not printed ones.
    #[serde(default)]
    pub r#match: Option<Match>,
    /// "booklet", "cover", "loose", "taped" or "tablet".
    pub bound: String,
    pub starts: Option<SideName>,
    pub paper_mm: (Mm, Mm),
    pub staff_mm: Mm,
    pub pages: Vec<PartPage>,
    /// Pages left empty on purpose, from 1.
    pub blank: Vec<u32>,
    /// Pages that fold out, from 1.
    pub fold_outs: Vec<u32>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PartPage {
    /// From 1, in reading order.
    pub number: u32,
    pub side: SideName,
    pub systems: Vec<PartSystem>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PartSystem {
    pub first_bar_index: BarIdx,
    pub last_bar_index: BarIdx,
    /// Bars that are printed as one rest.
    pub rests: Vec<(BarIdx, BarIdx)>,
}

/// One turn.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PartTurn {
    pub after_bar_index: BarIdx,
    pub after_bar_label: String,
    /// The page that it ends, from 1.
    pub page: u32,
    pub silent_before_s: Option<Seconds>,
    pub silent_after_s: Option<Seconds>,
    /// For hands and eyes together.
    pub free_s: Option<Seconds>,
    pub needed_s: Seconds,
    /// "easy", "enough", "tight", "none"; null where the time is not known.
    pub class: Option<String>,
    pub audible: bool,
    pub sentence: String,
    pub alternative: Option<BetterTurn>,
    /// First and last bar looked at, where no better place was found.
    pub searched: Option<(BarIdx, BarIdx)>,
    /// Last bars before the upper and before the lower half of a half-leaf is turned, where one would mend the turn.
    pub half_leaf: Option<(BarIdx, BarIdx)>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BetterTurn {
    pub after_bar_index: BarIdx,
    pub after_bar_label: String,
    pub class: String,
    /// More than now; fewer where negative.
    pub pages: i32,
    pub turns: i32,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Pages {
    pub pages: u32,
    pub turns: Vec<PartTurn>,
}

/// A passage that it plays.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Played {
    pub first_bar_index: BarIdx,
    pub last_bar_index: BarIdx,
    pub starts_s: Option<Seconds>,
    pub seconds: Option<Seconds>,
    /// Of each bar: -4 (pppp) to 4 (ffff); null before the first dynamic.
    pub loudness: Vec<Option<i8>>,
}

/// A silence of a bar or more.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Rest {
    pub first_bar_index: BarIdx,
    pub last_bar_index: BarIdx,
    pub seconds: Option<Seconds>,
    /// 1 is the hardest to count; null for all but the few.
    pub rank: Option<u16>,
    pub has_cue: bool,
    pub cue: Option<Cue>,
}

/// Where a cue could come from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Cue {
    pub part: PartId,
    pub name: String,
    pub first_bar_index: BarIdx,
    pub last_bar_index: BarIdx,
    /// Of its first note, "F sharp 4".
    pub sounding: String,
    pub written: String,
}

/// Something to change between two notes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Changed {
    pub bar_index: BarIdx,
    pub words: String,
    pub seconds: Option<Seconds>,
}

/// A passage of a shared staff that does not tell who plays.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Undecided {
    pub first_bar_index: BarIdx,
    pub last_bar_index: BarIdx,
    pub staff: StaffId,
    pub why: String,
}

/// A file or an entry of a list that was left out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct SetAside {
    pub name: String,
    pub why: String,
}

impl PartsReport {
    #[must_use]
    pub fn of(checked: &PartsChecked) -> PartsReport {
        let could_not_run = checked
            .could_not_run
            .iter()
            .map(|(rule, needs)| CouldNotRun { rule: (*rule).to_owned(), needs: needs.clone() });
        PartsReport {
            schema: VERSION.to_owned(),
            input: checked.sources.iter().map(Input::of).collect(),
            title: checked.score.title.clone(),
            tempo_assumed: checked.score.tempo_assumed,
            parts: (0..).zip(&checked.parts).map(|(at, part)| Part::of(at, part, checked)).collect(),
            rules: Rules {
                ran: checked.ran.iter().map(|rule| (*rule).to_owned()).collect(),
                could_not_run: could_not_run.collect(),
            },
            set_aside: checked
                .set_aside
                .iter()
                .map(|aside| SetAside { name: aside.name.clone(), why: aside.why.clone() })
                .collect(),
        }
    }
}

impl Part {
    fn of(at: usize, part: &PartChecked, checked: &PartsChecked) -> Part {
        let (player, score) = (&part.player, &checked.score);
        let changed = |change: &crate::players::end_to_end::Change| Changed {
            bar_index: change.bar,
            words: change.words.clone(),
            seconds: change.seconds.map(thousandth),
        };
        let undecided = |open: &crate::players::Undecided| Undecided {
            first_bar_index: open.bars.first,
            last_bar_index: open.bars.last,
            staff: open.staff,
            why: open.why.clone(),
        };
        Part {
            name: player.name.clone(),
            family: player.family,
            player: player.number,
            staves: player.staves.clone(),
            copies: player.copies,
            deliverable: player.undecided.is_empty(),
            layout: PartLayout::of(part),
            turns: words::turns(part).iter().map(|turn| PartTurn::of(turn, score)).collect(),
            proposal: part.recorded.as_ref().map(|_| Pages::of(&part.proposed, score)),
            greedy: Pages::of(&part.filled, score),
            casting_off: casting_off_line::line(part, score),
            timeline: part.whole.plays.iter().map(Played::of).collect(),
            rests: part.whole.rests.iter().map(Rest::of).collect(),
            cold_entries: part.whole.cold.iter().map(|entry| entry.bar).collect(),
            changes: part.whole.changes.iter().map(changed).collect(),
            undecided: player.undecided.iter().map(undecided).collect(),
            findings: found::of(checked, at).map(|found| PartFinding::of(&found)).collect(),
            accepted: part.accepted.iter().map(Acceptance::of).collect(),
            lapsed: part.lapsed.iter().map(Lapsed::of).collect(),
        }
    }
}

impl PartFinding {
    fn of(found: &Found<'_>) -> PartFinding {
        let music = &found.part.player.music;
        PartFinding {
            number: found.number,
            music: Fingerprint::of(found.finding, music).to_string(),
            finding: Finding::of(found.finding, music),
        }
    }
}

impl Lapsed {
    fn of((entry, lapse): &(Entry, Lapse)) -> Lapsed {
        let Entry { rule, who, why, .. } = entry.clone();
        Lapsed { rule, by: who, why, because: lapse.to_string() }
    }
}

impl PartLayout {
    fn of(part: &PartChecked) -> PartLayout {
        let proposed = &part.proposed.pages;
        let recorded = part.recorded.as_ref();
        let (layout, paper) = (part.layout(), part.paper());
        let numbers = |pages: &[crate::place::PageIdx]| match recorded {
            Some(_) => Vec::new(),
            None => pages.iter().map(|page| page.0 + 1).collect(),
        };
        PartLayout {
            footing: match recorded {
                Some(own) if own.fit.is_some() => "printed",
                Some(_) => "recorded",
                None => "proposal",
            }
            .to_owned(),
            r#match: recorded.and_then(|own| own.fit.as_ref()).map(Match::of),
            bound: bound(part.stand.binding).to_owned(),
            starts: layout.pages.first().map(|page| side(page.side)),
            paper_mm: (paper.0.rounded(), paper.1.rounded()),
            staff_mm: part.staff_height().rounded(),
            pages: pages(layout, if recorded.is_some() { &part.blocks } else { &proposed.blocks }),
            blank: numbers(&proposed.blank),
            fold_outs: numbers(&proposed.fold_outs),
        }
    }
}

fn pages(layout: &Layout, blocks: &[Block]) -> Vec<PartPage> {
    let rests: Vec<BarSpan> = blocks
        .iter()
        .filter(|block| block.kind != BlockKind::Bar && block.bars.count() > 1)
        .map(|block| block.bars)
        .collect();
    let system = |own: &crate::layout::System| {
        let span = own.span()?;
        let inside =
            rests.iter().filter(|rest| span.contains(rest.first)).map(|rest| (rest.first, rest.last)).collect();
        Some(PartSystem { first_bar_index: span.first, last_bar_index: span.last, rests: inside })
    };
    let page = |(number, page): (u32, &crate::layout::Page)| PartPage {
        number,
        side: side(page.side),
        systems: page.systems.iter().filter_map(system).collect(),
    };
    (1..).zip(&layout.pages).map(page).collect()
}

fn side(side: Side) -> SideName {
    match side {
        Side::Recto => SideName::Recto,
        Side::Verso => SideName::Verso,
    }
}

fn bound(binding: Binding) -> &'static str {
    match binding {
        Binding::Booklet => "booklet",
        Binding::Cover => "cover",
        Binding::Loose => "loose",
        Binding::Taped => "taped",
        Binding::Tablet => "tablet",
    }
}

fn class(class: TurnClass) -> String {
    let word = match class {
        TurnClass::Easy => "easy",
        TurnClass::Enough => "enough",
        TurnClass::Tight => "tight",
        TurnClass::None => "none",
    };
    word.to_owned()
}

fn thousandth(seconds: Seconds) -> Seconds {
    Seconds((seconds.0 * 1000.0).round() / 1000.0)
}

impl PartTurn {
    fn of(turn: &Turn, score: &Score) -> PartTurn {
        let point = &turn.point;
        PartTurn {
            after_bar_index: point.after,
            after_bar_label: score.label(point.after).to_owned(),
            page: turn.page.0 + 1,
            silent_before_s: point.silent_before.map(thousandth),
            silent_after_s: point.silent_after.map(thousandth),
            free_s: point.free.map(thousandth),
            needed_s: thousandth(point.needed),
            class: point.class.map(class),
            audible: point.audible,
            sentence: words::turn(turn, score),
            alternative: turn.alternative.map(|other| BetterTurn {
                after_bar_index: other.after,
                after_bar_label: score.label(other.after).to_owned(),
                class: class(other.class),
                pages: other.pages,
                turns: other.turns,
            }),
            searched: turn.searched.filter(|_| turn.alternative.is_none()).map(|span| (span.first, span.last)),
            half_leaf: turn.half_leaf.map(|halves| (halves.upper, halves.lower)),
        }
    }
}

impl Pages {
    fn of(turned: &Turned, score: &Score) -> Pages {
        let turns = turned.turns.iter().map(|turn| PartTurn::of(turn, score)).collect();
        Pages { pages: turned.pages.layout.pages.len() as u32, turns }
    }
}

impl Played {
    fn of(passage: &Passage) -> Played {
        Played {
            first_bar_index: passage.bars.first,
            last_bar_index: passage.bars.last,
            starts_s: passage.starts.map(thousandth),
            seconds: passage.seconds.map(thousandth),
            loudness: passage.levels.iter().map(|level| level.loudness).collect(),
        }
    }
}

impl Rest {
    fn of(silence: &Silence) -> Rest {
        Rest {
            first_bar_index: silence.bars.first,
            last_bar_index: silence.bars.last,
            seconds: silence.seconds.map(thousandth),
            rank: silence.rank,
            has_cue: silence.has_cue,
            cue: silence.cue.as_ref().map(|cue| Cue {
                part: cue.part,
                name: cue.name.clone(),
                first_bar_index: cue.bars.first,
                last_bar_index: cue.bars.last,
                sounding: words::pitch(cue.sounding),
                written: words::pitch(cue.written),
            }),
        }
    }
}
