//! Which sheets that are already printed hold music that changed: the reprint list of one document.
//!
//! A sheet is a leaf: a right-hand page with the page on its back. Nothing here asks how the new draft is laid out; a
//! sheet is touched when what stands on it is not what the new draft says.

use std::collections::BTreeSet;

use super::errata::{Erratum, Hand};
use super::{LineEdits, Matched, Music, Status, What};
use crate::casting_off::part::Binding;
use crate::layout::{Layout, Page, Side};
use crate::place::{BarIdx, BarSpan, PageIdx};
use crate::units::Mm;

/// One leaf.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    /// In reading order.
    pub pages: Vec<PageIdx>,
    /// First and last bar on them; `None` where no music stands there.
    pub bars: Option<BarSpan>,
}

/// What becomes of a printed sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetFate {
    pub sheet: Sheet,
    pub fate: Fate,
    /// In the order of the old draft; empty where nothing changed.
    pub why: Vec<Why>,
    /// Printed bar numbers on it are no longer those of the new draft.
    pub numbers: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fate {
    /// Nothing on it changed.
    Keep,
    /// So little that it can be written in by hand.
    ByHand,
    Print,
}

/// Neighbouring bars that changed in one way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Why {
    pub reason: Reason,
    /// Of the old draft, on the sheet; the last bar before what was put in.
    pub bars: BarSpan,
    /// Of the new draft, where they stand in it.
    pub new_bars: Option<BarSpan>,
    /// The player rests throughout: only a count of bars changes.
    pub rests: bool,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reason {
    Edited(Vec<What>),
    Out,
    In,
    MovedAway,
    MovedIn,
    /// The same music, on other pages or with other staves.
    SetOtherwise,
}

/// Sheets in a row that have to be printed again, and the bars that belong on them now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// Places among the sheets.
    pub first: usize,
    pub last: usize,
    /// `None` where none are left.
    pub new_bars: Option<BarSpan>,
}

/// The sheets of one document.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheets {
    pub sheets: Vec<SheetFate>,
    pub runs: Vec<Run>,
    /// What is to be written in by hand, sheet by sheet.
    pub errata: Vec<Erratum>,
    /// By bar of the new draft: the sheet that it belongs on.
    pub owner: Vec<usize>,
}

/// One document of the old draft, as it lies on the stands.
pub struct Printed<'a> {
    pub layout: &'a Layout,
    pub binding: Binding,
    pub edits: &'a LineEdits,
    pub hand: &'a Hand<'a>,
}

impl Why {
    /// Whether another one is the same change of the bars that follow.
    #[must_use]
    pub fn goes_on_with(&self, next: &Why) -> bool {
        let follows = |one: BarSpan, other: BarSpan| one.last.0 + 1 == other.first.0;
        let news = match (self.new_bars, next.new_bars) {
            (Some(one), Some(other)) => follows(one, other),
            (None, None) => true,
            _ => false,
        };
        let olds = match next.reason {
            Reason::In | Reason::MovedIn => self.bars == next.bars,
            _ => follows(self.bars, next.bars),
        };
        self.reason == next.reason && news && olds
    }

    /// Both as one.
    pub fn extend(&mut self, next: &Why) {
        self.bars.last = next.bars.last;
        self.new_bars = self.new_bars.zip(next.new_bars).map(|(one, other)| BarSpan::new(one.first, other.last));
    }

    fn set_otherwise(bars: BarSpan) -> Why {
        Why { reason: Reason::SetOtherwise, bars, new_bars: None, rests: false }
    }
}

/// A sheet with more to write in than this is printed again.
const MOST_BY_HAND: usize = 6;
/// Millimetres that nobody sees.
const HAIR: f64 = 0.05;

/// The leaves of a document, in order.
#[must_use]
pub fn leaves(layout: &Layout, binding: Binding) -> Vec<Sheet> {
    let folded = matches!(binding, Binding::Booklet | Binding::Cover);
    let mut leaves: Vec<Sheet> = Vec::new();
    let mut before = None;
    for (page, at) in layout.pages.iter().zip(0_u32..) {
        let is_back = folded && page.side == Side::Verso && before == Some(Side::Recto);
        match leaves.last_mut().filter(|_| is_back) {
            Some(leaf) => leaf.pages.push(PageIdx(at)),
            None => leaves.push(Sheet { pages: vec![PageIdx(at)], bars: None }),
        }
        before = Some(page.side);
        if let Some((leaf, span)) = leaves.last_mut().zip(page.span()) {
            leaf.bars =
                Some(leaf.bars.map_or(span, |own| BarSpan::new(own.first.min(span.first), own.last.max(span.last))));
        }
    }
    leaves
}

/// One change at its place.
struct Change {
    sheet: usize,
    why: Why,
    pair: usize,
}

/// What becomes of each sheet of a document.
#[must_use]
pub fn sheets(printed: &Printed<'_>, music: &Music) -> Sheets {
    let leaves = leaves(printed.layout, printed.binding);
    if leaves.is_empty() {
        return Sheets::default();
    }
    let sheet_of = |bar: BarIdx| {
        let holds = |leaf: &Sheet| leaf.bars.is_some_and(|span| span.contains(bar));
        leaves.iter().position(holds)
    };
    let matched = Matched::of(music);
    let (changes, owner) = changes(printed, music, &sheet_of);
    let mut found = Sheets { owner, ..Sheets::default() };
    for (at, leaf) in leaves.iter().enumerate() {
        let own: Vec<&Change> = changes.iter().filter(|change| change.sheet == at).collect();
        let mut why = gathered(&own);
        let other_staves = leaf.bars.filter(|_| printed.edits.other_staves);
        why.extend(other_staves.map(Why::set_otherwise));
        let errata =
            printed.hand.errata(&why, &own.iter().map(|change| change.pair).collect::<Vec<_>>(), music, &matched);
        let errata = errata.filter(|errata| errata.len() <= MOST_BY_HAND && !printed.edits.retransposed);
        let fate = match (&errata, why.is_empty() && !printed.edits.retransposed) {
            (_, true) => Fate::Keep,
            (Some(_), false) => Fate::ByHand,
            (None, false) => Fate::Print,
        };
        if fate == Fate::ByHand {
            found.errata.extend(errata.into_iter().flatten());
        }
        let numbers = leaf.bars.is_some_and(|span| printed.hand.numbers_differ(span, music));
        found.sheets.push(SheetFate { sheet: leaf.clone(), fate, why, numbers });
    }
    found.runs = runs(&found, music);
    found
}

/// Everything that changed for this reader, with the sheet that it stands on, and the sheet of each bar of the new draft.
fn changes(
    printed: &Printed<'_>,
    music: &Music,
    sheet_of: &dyn Fn(BarIdx) -> Option<usize>,
) -> (Vec<Change>, Vec<usize>) {
    let seams = music.seams();
    let mut edits = printed.edits.edits.iter().peekable();
    let mut all = Vec::new();
    let mut owner = Vec::new();
    let mut last = 0;
    for (pair, bar) in music.bars.iter().enumerate() {
        let what = edits.next_if(|(at, _)| *at == pair).map(|(_, what)| what);
        let seam = seams.get(pair).copied().flatten();
        let home = bar.old.filter(|_| bar.status != Status::Moved);
        let stands = home.or(seam);
        if let Some(new) = bar.new {
            last = stands.and_then(sheet_of).unwrap_or(last).max(last);
            owner.resize(owner.len().max(new.at() + 1), last);
        }
        if printed.hand.is_tacet(bar.old, bar.new) {
            continue;
        }
        let mut tell = |at: Option<BarIdx>, reason: Reason, new: Option<BarIdx>, rests: bool| {
            let Some((at, sheet)) = at.and_then(|at| Some((at, sheet_of(at)?))) else { return };
            let new_bars = new.map(BarSpan::one);
            all.push(Change { sheet, why: Why { reason, bars: BarSpan::one(at), new_bars, rests }, pair });
        };
        let (was, is) = (printed.hand.rests_before(bar.old), printed.hand.rests_now(bar.new));
        match bar.status {
            Status::Deleted => tell(bar.old, Reason::Out, None, was),
            Status::Inserted => tell(seam, Reason::In, bar.new, is),
            Status::Moved => {
                tell(bar.old, Reason::MovedAway, bar.new, was && is);
                tell(seam, Reason::MovedIn, bar.new, was && is);
            }
            Status::Equal | Status::Edited => {
                if let Some(what) = what {
                    tell(bar.old, Reason::Edited(what.clone()), bar.new, was && is);
                }
            }
        }
    }
    all.sort_by_key(|change| (change.sheet, change.why.bars));
    (all, owner)
}

/// Neighbours of one kind as one.
fn gathered(changes: &[&Change]) -> Vec<Why> {
    let mut gathered: Vec<Why> = Vec::new();
    for Change { why, .. } in changes {
        match gathered.last_mut().filter(|before| before.rests == why.rests && before.goes_on_with(why)) {
            Some(before) => before.extend(why),
            None => gathered.push(why.clone()),
        }
    }
    gathered
}

/// Sheets to be printed that lie next to each other, with what belongs on them.
fn runs(found: &Sheets, music: &Music) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for (at, sheet) in found.sheets.iter().enumerate() {
        if sheet.fate != Fate::Print {
            continue;
        }
        match runs.last_mut().filter(|run| run.last + 1 == at) {
            Some(run) => run.last = at,
            None => runs.push(Run { first: at, last: at, new_bars: None }),
        }
    }
    let known: BTreeSet<BarIdx> = music.bars.iter().filter_map(|bar| bar.new).collect();
    for run in &mut runs {
        let own = found.owner.iter().zip(0_u32..).filter(|(sheet, _)| (run.first..=run.last).contains(*sheet));
        let own = own.map(|(_, bar)| BarIdx(bar)).filter(|bar| known.contains(bar));
        run.new_bars = own.map(BarSpan::one).reduce(|all, one| BarSpan::new(all.first, one.last));
    }
    runs
}

/// The sheets of the new draft that are not the same as one that stays on the stand: where the new draft has pages of its
/// own, these have to be printed. Sheets of the old draft that have no place among them are touched, too.
#[must_use]
pub fn to_print(old: (&Layout, Binding), new: (&Layout, Binding), found: &mut Sheets) -> Vec<Sheet> {
    let bars: Vec<BTreeSet<BarIdx>> = (0..found.sheets.len()).map(|at| bars_owned(found, at)).collect();
    let mut has_place = vec![false; found.sheets.len()];
    let mut print = Vec::new();
    for leaf in leaves(new.0, new.1).into_iter().filter(|leaf| leaf.bars.is_some()) {
        let own = bars_on(new.0, &leaf.pages);
        let same = |(sheet, bars): (&SheetFate, &BTreeSet<BarIdx>)| {
            let pages = || sheet.sheet.pages.iter().zip(&leaf.pages);
            let set = |(one, other): (&PageIdx, &PageIdx)| {
                let pages = (old.0.pages.get(one.at()), new.0.pages.get(other.at()));
                pages.0.zip(pages.1).is_some_and(|(one, other)| is_set_alike(one, other))
            };
            let stays = sheet.fate != Fate::Print && *bars == own;
            stays && sheet.sheet.pages.len() == leaf.pages.len() && pages().all(set)
        };
        match found.sheets.iter().zip(&bars).position(same).and_then(|at| has_place.get_mut(at)) {
            Some(place) => *place = true,
            None => print.push(leaf),
        }
    }
    for (sheet, has_place) in found.sheets.iter_mut().zip(has_place) {
        if sheet.fate != Fate::Print && !has_place {
            sheet.fate = Fate::Print;
            sheet.why.extend(sheet.sheet.bars.map(Why::set_otherwise));
        }
    }
    let by_hand: Vec<BarSpan> =
        found.sheets.iter().filter(|sheet| sheet.fate == Fate::ByHand).filter_map(|sheet| sheet.sheet.bars).collect();
    found.errata.retain(|erratum| by_hand.iter().any(|bars| bars.contains(erratum.old_bar)));
    print
}

/// Whether two pages can lie in one set: as many systems, the same paper, staves of one size.
fn is_set_alike(one: &Page, other: &Page) -> bool {
    let near = |one: Mm, other: Mm| (one - other).0.abs() < HAIR;
    let height =
        |page: &Page| page.systems.iter().flat_map(|system| &system.staves).map(|staff| staff.height).reduce(Mm::max);
    let staves = height(one).zip(height(other)).is_none_or(|(one, other)| near(one, other));
    let (size, their_size) = (one.size.value, other.size.value);
    one.systems.len() == other.systems.len() && staves && near(size.0, their_size.0) && near(size.1, their_size.1)
}

/// Bars of the new draft that belong on a sheet.
fn bars_owned(found: &Sheets, sheet: usize) -> BTreeSet<BarIdx> {
    found.owner.iter().zip(0_u32..).filter(|(own, _)| **own == sheet).map(|(_, bar)| BarIdx(bar)).collect()
}

fn bars_on(layout: &Layout, pages: &[PageIdx]) -> BTreeSet<BarIdx> {
    let pages = pages.iter().filter_map(|page| layout.pages.get(page.at()));
    let bars = pages.flat_map(|page| &page.systems).flat_map(|system| &system.bars).filter_map(|bar| bar.bars);
    bars.flat_map(BarSpan::iter).collect()
}

#[cfg(test)]
mod tests;
