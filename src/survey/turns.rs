//! The turns of a part on its pages, each with a better place where there is one.

use super::half_leaf::{HalfLeaf, half_leaf};
use crate::casting_off::part::{self, PartBasis, PartPages, turned_bars};
use crate::layout::Layout;
use crate::place::{BarIdx, BarSpan, PageIdx};
use crate::players::blocks::is_silent;
use crate::players::turning::{Frees, TurnClass, TurnPoint};
use crate::units::Seconds;

/// One turn.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// The page that it ends.
    pub page: PageIdx,
    pub point: TurnPoint,
    /// For tight and impossible turns: the best other place within 20 bars, if there is a better one.
    pub alternative: Option<Alternative>,
    /// The bars that were looked at for it.
    pub searched: Option<BarSpan>,
    pub advice: Option<TurnAdvice>,
    /// For tight and impossible turns: a leaf in two halves that would mend it.
    pub half_leaf: Option<HalfLeaf>,
}

/// Another place to turn, and its price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Alternative {
    pub after: BarIdx,
    pub class: TurnClass,
    /// Pages and turns more than now.
    pub pages: i32,
    pub turns: i32,
}

/// What to print at the turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TurnAdvice {
    /// "V.S.": turn at once.
    TurnAtOnce,
    /// Bars of rest overleaf: print them, or "time", at the foot.
    RestOverleaf(u32),
}

/// A turn back to where a repeat begins.
#[derive(Clone, Debug, PartialEq)]
pub struct BackwardTurn {
    /// The last bar before the jump, and the first after it.
    pub from: BarIdx,
    pub to: BarIdx,
    /// Pages turned back, by openings.
    pub pages: u32,
    /// With what is free before the jump and after it.
    pub point: TurnPoint,
}

/// Bars on either side of a turn in which a better place is looked for.
const AROUND: u32 = 20;

/// The turns of pages that were cast off, with better places and what to print.
#[must_use]
pub fn turns(basis: &PartBasis<'_>, pages: &PartPages) -> Vec<Turn> {
    let price = Price { pages: pages.layout.pages.len(), turns: pages.turns.len() };
    pages.turns.iter().filter_map(|(after, page)| turn(basis, &pages.layout, (*after, *page), price)).collect()
}

/// The turns of pages that are only shown for comparison: nothing better is looked for.
#[must_use]
pub fn plain_turns(basis: &PartBasis<'_>, pages: &PartPages) -> Vec<Turn> {
    let plain = |(after, page): &(BarIdx, PageIdx)| {
        let point = basis.points.get(after.at())?.clone();
        let advice = advice(basis, &point);
        Some(Turn { page: *page, point, alternative: None, searched: None, advice, half_leaf: None })
    };
    pages.turns.iter().filter_map(plain).collect()
}

/// The turns of pages that a file records, the same way.
#[must_use]
pub fn turns_on(basis: &PartBasis<'_>, layout: &Layout) -> Vec<Turn> {
    let turned = turned_bars(layout, basis.stand.binding);
    let price = Price { pages: layout.pages.len(), turns: turned.len() };
    turned.iter().filter_map(|turned| turn(basis, layout, *turned, price)).collect()
}

/// Turns back to where a repeat begins on an earlier opening.
#[must_use]
pub fn backward(basis: &PartBasis<'_>, layout: &Layout) -> Vec<BackwardTurn> {
    let turned = turned_bars(layout, basis.stand.binding);
    let music = &basis.player.music;
    let mut back = Vec::new();
    let mut begins = BarIdx(0);
    for (at, bar) in music.bars.iter().enumerate() {
        let own = BarIdx(at as u32);
        if bar.left.repeat || music.movements.iter().any(|movement| movement.bars.first == own) {
            begins = own;
        }
        if !bar.right.repeat {
            continue;
        }
        let pages = turned.iter().filter(|(after, _)| begins <= *after && *after < own).count();
        if pages > 0
            && let Some(point) = around_jump(basis, own, begins)
        {
            back.push(BackwardTurn { from: own, to: begins, pages: pages as u32, point });
        }
        // What follows an ending goes back to the same place; anything else begins anew.
        if bar.ending.is_none() {
            begins = BarIdx(own.0 + 1);
        }
    }
    back
}

/// Free before the jump and after its landing.
fn around_jump(basis: &PartBasis<'_>, from: BarIdx, to: BarIdx) -> Option<TurnPoint> {
    let before = basis.points.get(from.at())?;
    // The barline before the landing; a movement's first bar has none.
    let landing = to.0.checked_sub(1).and_then(|bar| basis.points.get(bar as usize));
    let after = match landing {
        Some(point) => point.silent_after,
        None => first_silence(basis),
    };
    let silent = before.silent_before.zip(after).map(|(before, after)| before + after);
    let free = silent.map(|silent| (silent - Seconds(1.0)).max(Seconds::ZERO));
    let class = free.map(|free| TurnClass::of(free, before.needed));
    Some(TurnPoint { silent_after: after, free, class, ..before.clone() })
}

/// Silence at the very beginning.
fn first_silence(basis: &PartBasis<'_>) -> Option<Seconds> {
    let music = &basis.player.music;
    let staves = music.staves.len().max(1);
    let silent = music.cells.chunks(staves).take_while(|cells| cells.iter().all(|cell| !cell.sounds())).count();
    music.bars.iter().take(silent).map(|bar| bar.seconds).sum()
}

#[derive(Clone, Copy)]
struct Price {
    pages: usize,
    turns: usize,
}

fn turn(basis: &PartBasis<'_>, layout: &Layout, (after, page): (BarIdx, PageIdx), now: Price) -> Option<Turn> {
    let point = basis.points.get(after.at())?.clone();
    let is_bad = matches!(point.class, Some(TurnClass::None | TurnClass::Tight));
    let searched = is_bad.then(|| around(basis, after));
    let alternative = searched.and_then(|span| better(basis, &point, span, now));
    let advice = advice(basis, &point);
    let half_leaf = is_bad.then(|| half_leaf(basis, layout, page)).flatten();
    Some(Turn { page, point, alternative, searched, advice, half_leaf })
}

/// The bars within reach, in the same movement.
fn around(basis: &PartBasis<'_>, after: BarIdx) -> BarSpan {
    let reach = BarSpan::new(BarIdx(after.0.saturating_sub(AROUND)), BarIdx(after.0.saturating_add(AROUND)));
    let Some(movement) = basis.player.music.movement_of(after) else { return reach };
    BarSpan::new(reach.first.max(movement.bars.first), reach.last.min(movement.bars.last))
}

/// The best class within reach, the nearest of them, and what it costs.
fn better(basis: &PartBasis<'_>, point: &TurnPoint, reach: BarSpan, now: Price) -> Option<Alternative> {
    let class_at = |bar: BarIdx| basis.points.get(bar.at()).and_then(|point| point.class);
    let better =
        reach.iter().filter_map(|bar| Some((class_at(bar)?, bar))).filter(|(class, _)| Some(*class) > point.class);
    let distance = |bar: BarIdx| bar.0.abs_diff(point.after.0);
    let mut places: Vec<(TurnClass, BarIdx)> = better.filter(|(class, _)| *class >= TurnClass::Enough).collect();
    places.sort_by_key(|(class, bar)| (std::cmp::Reverse(*class), distance(*bar), *bar));
    // The nearest few are enough: farther ones cost more.
    const TRIED: usize = 3;
    let tried = places.into_iter().take(TRIED).filter_map(|(class, after)| {
        let pages = part::propose_turning_after(basis, after)?;
        let more = |new: usize, old: usize| new as i32 - old as i32;
        let (pages, turns) = (more(pages.layout.pages.len(), now.pages), more(pages.turns.len(), now.turns));
        Some(Alternative { after, class, pages, turns })
    });
    tried.min_by_key(|other| (other.turns, other.pages, std::cmp::Reverse(other.class), distance(other.after)))
}

/// V.S. where the player has to turn at once, the rest overleaf where the player plays up to the foot and is free then.
fn advice(basis: &PartBasis<'_>, point: &TurnPoint) -> Option<TurnAdvice> {
    // Less before the barline than this is playing to the foot; more after it is a rest to be told of.
    const FOOT: Seconds = Seconds(1.0);
    const OVERLEAF: Seconds = Seconds(2.0);
    if point.frees == Frees::MovementEnds {
        return None;
    }
    let (before, after) = (point.silent_before?, point.silent_after?);
    if before < FOOT && after >= OVERLEAF {
        let silent = (point.after.0 + 1..).map(BarIdx).take_while(|bar| silent_bar(basis, *bar)).count() as u32;
        if silent > 0 {
            return Some(TurnAdvice::RestOverleaf(silent));
        }
    }
    matches!(point.class?, TurnClass::None | TurnClass::Tight).then_some(TurnAdvice::TurnAtOnce)
}

fn silent_bar(basis: &PartBasis<'_>, bar: BarIdx) -> bool {
    bar.at() < basis.player.music.bars.len() && is_silent(&basis.player.music, bar)
}
