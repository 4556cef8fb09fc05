//! Openings: the one or two pages that lie before the conductor between two turns.

use super::after_turn;
use crate::layout::{Layout, Side};
use crate::place::{BarIdx, BarSpan, PageIdx};
use crate::score::Score;
use crate::units::Seconds;

/// One opening.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// One page, or verso and recto.
    pub pages: Vec<PageIdx>,
    /// `None` when no music stands on it.
    pub bars: Option<BarSpan>,
    /// Of its music played straight through; `None` when the time is not known.
    pub seconds: Option<Seconds>,
    /// What the conductor meets just after turning to it, in order; empty for the first opening.
    pub after_turn: Vec<AfterTurn>,
}

/// Something that begins just after a turn.
#[derive(Clone, Debug, PartialEq)]
pub struct AfterTurn {
    pub kind: AfterTurnKind,
    pub bar: BarIdx,
    /// From the first note overleaf.
    pub seconds: Seconds,
    /// In a musician's words: "Allegro", "3/4", "trumpets enter ff".
    pub what: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AfterTurnKind {
    NewTempo,
    /// A metre that does not recur all the time.
    NewMetre,
    Fermata,
    GeneralPause,
    /// Someone enters alone after silence, or the whole orchestra suddenly loud or soft.
    ExposedEntry,
}

/// A left-hand page begins an opening; a right-hand page joins the left-hand page before it.
pub(super) fn openings(score: &Score, layout: &Layout) -> Vec<Opening> {
    let mut groups: Vec<Vec<PageIdx>> = Vec::new();
    let mut before: Option<Side> = None;
    for (at, page) in layout.pages.iter().enumerate() {
        let own = PageIdx(at as u32);
        match groups.last_mut().filter(|_| page.side == Side::Recto && before == Some(Side::Verso)) {
            Some(opening) => opening.push(own),
            None => groups.push(vec![own]),
        }
        before = Some(page.side);
    }
    let mut openings: Vec<Opening> = groups.into_iter().map(|pages| opening(score, layout, pages)).collect();
    after_turn::fill_in(score, &mut openings);
    openings
}

fn opening(score: &Score, layout: &Layout, pages: Vec<PageIdx>) -> Opening {
    let spans = pages.iter().filter_map(|page| layout.pages.get(page.at()).and_then(|page| page.span()));
    let bars = spans.reduce(|all, one| BarSpan::new(all.first.min(one.first), all.last.max(one.last)));
    Opening { pages, bars, seconds: bars.and_then(|bars| score.seconds_of(bars)), after_turn: Vec::new() }
}
