//! Which sheets of which documents have to be printed again.

use super::Draft;
use super::readers::{Lines, PlayerPair, Reader, part};
use crate::casting_off::part::{self as part_pages, Binding, PartBasis, PartPages, Stand};
use crate::check::PartChecked;
use crate::compare::{self, Fate, Hand, LineEdits, Music, Printed, Run, Sheet, Sheets};
use crate::layout::{Layout, Origin, Side};
use crate::metrics::Metrics;
use crate::place::{BarIdx, BarSpan};
use crate::players::Player;
use crate::players::blocks::{Block, BlockKind, blocks};
use crate::players::turning::TurnPoint;

/// One document of both drafts, or of one.
#[derive(Clone, Debug, PartialEq)]
pub struct Reprint {
    pub reader: Reader,
    pub kind: ReprintKind,
    /// Those of the old draft; none of what is new.
    pub sheets: Sheets,
    /// One for each run of sheets that have to be printed; empty where the new draft has pages of its own.
    pub replacements: Vec<Replacement>,
    /// Sheets of the new draft to be printed, where it has pages of its own, or is new altogether.
    pub new_sheets: Option<Vec<Sheet>>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ReprintKind {
    /// In both drafts.
    Both,
    /// Only in the new one.
    Added,
    /// Only in the old one.
    Dropped,
}

/// Whether new pages can take the place of old ones, leaf for leaf.
#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    /// Pages of the old sheets that they take the place of.
    pub room: usize,
    /// Pages that the new music needs.
    pub needed: usize,
    /// Those pages: bars count from the first of the run.
    pub pages: Option<PartPages>,
    /// The first bar of the run in the new draft.
    pub first: Option<BarIdx>,
}

impl Replacement {
    /// Whether everything after them can stay.
    #[must_use]
    pub fn fits(&self) -> bool {
        self.needed <= self.room
    }
}

impl Reprint {
    /// Sheets of the old draft of one fate.
    pub fn of_fate(&self, fate: Fate) -> impl Iterator<Item = &compare::SheetFate> {
        self.sheets.sheets.iter().filter(move |sheet| sheet.fate == fate)
    }

    /// Whether anything has to be done about it.
    #[must_use]
    pub fn is_touched(&self) -> bool {
        self.kind != ReprintKind::Both
            || self.sheets.sheets.iter().any(|sheet| sheet.fate != Fate::Keep)
            || self.new_sheets.as_ref().is_some_and(|sheets| !sheets.is_empty())
    }

    /// Whether sheets of it have to be printed.
    #[must_use]
    pub fn is_printed(&self) -> bool {
        self.kind != ReprintKind::Dropped
            && (self.of_fate(Fate::Print).next().is_some()
                || self.new_sheets.as_ref().is_some_and(|sheets| !sheets.is_empty()))
    }
}

/// The score first, then every part.
pub(super) fn reprint(
    old: &Draft,
    new: &Draft,
    music: &Music,
    players: &[PlayerPair],
    lines: &Lines<'_>,
) -> Vec<Reprint> {
    let mut all = vec![score(old, new, music)];
    for (at, player) in players.iter().enumerate() {
        let reader = Reader::Player(at);
        match (part(old, player.old), part(new, player.new)) {
            (Some(one), Some(other)) => {
                let edits = lines.of_player(player).map(|(old, new)| compare::line(old, new, music));
                all.push(of_part(reader, (one, other), &edits.unwrap_or_default(), music));
            }
            (None, Some(other)) => all.push(Reprint {
                reader,
                kind: ReprintKind::Added,
                sheets: Sheets::default(),
                replacements: Vec::new(),
                new_sheets: Some(with_music(compare::leaves(other.layout(), other.stand.binding))),
            }),
            (Some(one), None) => all.push(Reprint {
                reader,
                kind: ReprintKind::Dropped,
                sheets: untouched(one.layout(), one.stand.binding),
                replacements: Vec::new(),
                new_sheets: None,
            }),
            (None, None) => {}
        }
    }
    all
}

fn with_music(sheets: Vec<Sheet>) -> Vec<Sheet> {
    sheets.into_iter().filter(|sheet| sheet.bars.is_some()).collect()
}

fn untouched(layout: &Layout, binding: Binding) -> Sheets {
    let keep = |sheet| compare::SheetFate { sheet, fate: Fate::Keep, why: Vec::new(), numbers: false };
    Sheets { sheets: compare::leaves(layout, binding).into_iter().map(keep).collect(), ..Sheets::default() }
}

/// The conductor's score: every bar is a bar to be read.
fn score(old: &Draft, new: &Draft, music: &Music) -> Reprint {
    let every = |count: usize| -> Vec<Block> {
        let bars = (0..count).filter_map(|bar| u32::try_from(bar).ok());
        bars.map(|bar| Block { bars: BarSpan::one(BarIdx(bar)), kind: BlockKind::Bar }).collect()
    };
    let (one, other) = (&old.checked, &new.checked);
    let (old_blocks, new_blocks) = (every(one.score.bars.len()), every(other.score.bars.len()));
    let hand = Hand { old: &one.score, new: &other.score, old_blocks: &old_blocks, new_blocks: &new_blocks };
    let edits = compare::full_score(music);
    let binding = Binding::Booklet;
    let printed = Printed { layout: &one.layout, binding, edits: &edits, hand: &hand };
    let mut sheets = compare::sheets(&printed, music);
    let new_sheets = tells_pages(&other.layout)
        .then(|| compare::to_print((&one.layout, binding), (&other.layout, binding), &mut sheets));
    Reprint { reader: Reader::Conductor, kind: ReprintKind::Both, sheets, replacements: Vec::new(), new_sheets }
}

fn tells_pages(layout: &Layout) -> bool {
    layout.systems().any(|(_, _, system)| system.breaks != Origin::Estimated)
}

fn of_part(reader: Reader, (old, new): (&PartChecked, &PartChecked), edits: &LineEdits, music: &Music) -> Reprint {
    let hand =
        Hand { old: &old.player.music, new: &new.player.music, old_blocks: &old.blocks, new_blocks: &new.blocks };
    let binding = old.stand.binding;
    let printed = Printed { layout: old.layout(), binding, edits, hand: &hand };
    let mut sheets = compare::sheets(&printed, music);
    let new_sheets = new
        .recorded
        .as_ref()
        .map(|own| compare::to_print((old.layout(), binding), (&own.layout, new.stand.binding), &mut sheets));
    let replacements = if new_sheets.is_some() {
        Vec::new()
    } else {
        sheets.runs.iter().map(|run| replacement(old, new, &sheets, run)).collect()
    };
    Reprint { reader, kind: ReprintKind::Both, sheets, replacements, new_sheets }
}

/// New pages in the place of a run of old ones, begun on the same side.
fn replacement(old: &PartChecked, new: &PartChecked, sheets: &Sheets, run: &Run) -> Replacement {
    let own = sheets.sheets.get(run.first..=run.last).unwrap_or_default();
    let pages: Vec<_> = own.iter().flat_map(|sheet| &sheet.sheet.pages).collect();
    let room = pages.len();
    let first_page = pages.first().and_then(|page| old.layout().pages.get(page.at()));
    let side = first_page.map_or(Side::Recto, |page| page.side);
    let Some(bars) = run.new_bars else { return Replacement { room, needed: 0, pages: None, first: None } };
    let player = Player { music: new.player.music.excerpt(bars), undecided: Vec::new(), ..new.player.clone() };
    let stand = Stand { starts: Some(side), headed: run.first == 0, ..new.stand.clone() };
    let blocks = blocks(&player.music);
    let metrics = Metrics::of(&player.music);
    let points: Vec<TurnPoint> = new.points.get(bars.first.at()..=bars.last.at()).unwrap_or_default().to_vec();
    let points: Vec<TurnPoint> =
        points.into_iter().zip(0..).map(|(point, at)| TurnPoint { after: BarIdx(at), ..point }).collect();
    let basis = PartBasis { player: &player, metrics: &metrics, blocks: &blocks, points: &points, stand: &stand };
    let count = |pages: &PartPages| pages.layout.pages.len();
    // The best turns where they fit; else as close as they can be set.
    let best = part_pages::propose(&basis).filter(|pages| count(pages) <= room);
    let pages = best.or_else(|| part_pages::fill(&basis));
    Replacement { room, needed: pages.as_ref().map_or(0, count), pages, first: Some(bars.first) }
}
