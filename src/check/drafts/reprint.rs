//! Which sheets of which documents have to be printed again.

use super::Draft;
use super::in_place::{self, Replacement};
use super::readers::{Lines, PlayerPair, Reader, part};
use crate::casting_off::part::Binding;
use crate::check::PartChecked;
use crate::compare::{self, Fate, Hand, LineEdits, Matched, Music, Printed, Sheet, Sheets};
use crate::layout::Layout;
use crate::place::{BarIdx, BarSpan};
use crate::players::blocks::{Block, BlockKind};

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

impl Reprint {
    /// Sheets of the old draft of one fate.
    pub fn of_fate(&self, fate: Fate) -> impl Iterator<Item = &compare::SheetFate> {
        self.sheets.sheets.iter().filter(move |sheet| sheet.fate == fate)
    }

    /// Whether the sheets that are not printed again can lie between new ones.
    #[must_use]
    pub fn can_stay(&self) -> bool {
        let stays = self.sheets.sheets.iter().any(|sheet| sheet.fate != Fate::Print);
        stays && self.new_sheets.is_none() && self.replacements.len() == self.sheets.runs.len()
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

/// The score first, then every part. `keep` asks for pages that can stay, whatever pages the new score has.
pub(super) fn reprint(
    old: &Draft,
    new: &Draft,
    (music, matched): (&Music, &Matched),
    players: &[PlayerPair],
    lines: &Lines<'_>,
    keep: bool,
) -> Vec<Reprint> {
    let mut all = vec![score(old, new, (music, matched), keep)];
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
fn score(old: &Draft, new: &Draft, (music, matched): (&Music, &Matched), keep: bool) -> Reprint {
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
    let (reader, kind) = (Reader::Conductor, ReprintKind::Both);
    let sheets = compare::sheets(&printed, music);
    let mut own = Reprint { reader, kind, sheets, replacements: Vec::new(), new_sheets: None };
    let has_pages = other.layout.tells_pages();
    // Printed pages are what they are; those of a file may be set otherwise, where that is asked for.
    let may_keep = keep && other.printed.is_none();
    if !has_pages || may_keep {
        own.replacements = in_place::of_score(one, other, &own.sheets, matched);
    }
    if has_pages && !(may_keep && own.can_stay()) {
        own.replacements.clear();
        let print = compare::to_print((&one.layout, binding), (&other.layout, binding), &mut own.sheets);
        own.new_sheets = Some(print);
    }
    own
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
    let replacements = if new_sheets.is_some() { Vec::new() } else { in_place::of_part(old, new, &sheets) };
    Reprint { reader, kind: ReprintKind::Both, sheets, replacements, new_sheets }
}
