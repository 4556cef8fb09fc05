//! A player's pages: bars and multi-bar rests on lines, lines on pages, and turns where the hands are free.

use crate::geometry::Margins;
use crate::layout::{Layout, Side};
use crate::metrics::Metrics;
use crate::place::{BarIdx, PageIdx};
use crate::players::Player;
use crate::players::blocks::Block;
use crate::players::turning::TurnPoint;
use crate::units::Mm;

mod cost;
mod fill;
mod lines;
mod pieces;
mod search;
mod set;
mod sheet;
mod turned;

#[cfg(test)]
mod brute;
#[cfg(test)]
mod tests;

pub use turned::turned_bars;

use pieces::Pieces;
use search::{Plan, Problem};

/// How the sheets hang together: which page ends have to be turned.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Binding {
    /// Folded and stapled: pages lie in openings, turned after each right-hand page.
    #[default]
    Booklet,
    /// The same with a cover: the music starts on a left-hand page.
    Cover,
    /// Single sheets, up to three beside each other on the stand.
    Loose,
    /// A strip that unfolds: up to three pages beside each other, then the next three.
    Taped,
    /// A screen: every page is turned, no hand is needed.
    Tablet,
}

/// What a part is printed on and how it lies on the stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Stand {
    pub binding: Binding,
    /// Width, height.
    pub paper: (Mm, Mm),
    pub margins: Margins,
    /// Of a five-line staff.
    pub staff_height: Mm,
    /// The force of [`Spacing`](crate::metrics::Spacing) that the house calls natural.
    pub natural_force: f64,
    /// The side that the music starts on, where it is fixed; otherwise the better one is found.
    pub starts: Option<Side>,
    /// The part's name stands over the first line; not over pages from the middle of one.
    pub headed: bool,
}

/// What the casting off of one part rests on.
#[derive(Clone, Copy, Debug)]
pub struct PartBasis<'a> {
    pub player: &'a Player,
    pub metrics: &'a Metrics,
    /// In order; together they hold every bar.
    pub blocks: &'a [Block],
    /// One entry a bar.
    pub points: &'a [TurnPoint],
    pub stand: &'a Stand,
}

/// The pages of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct PartPages {
    /// Estimated throughout; a multi-bar rest is one printed bar.
    pub layout: Layout,
    pub starts: Side,
    /// After divisions for turns, in order.
    pub blocks: Vec<Block>,
    /// Bars after which the player turns, and the page that each ends.
    pub turns: Vec<(BarIdx, PageIdx)>,
    /// Pages left empty on purpose, so that a turn comes at a better place.
    pub blank: Vec<PageIdx>,
    /// Pages that fold out to the right of a right-hand page, so that no turn is needed there.
    pub fold_outs: Vec<PageIdx>,
}

/// The pages that cost least: few turns, turns where hands and eyes are free, few sheets, even lines. `None` where there
/// is no music, or no paper to put it on.
///
/// Exact: all ways to divide the music into lines and pages are weighed, from both sides that it may start on. Pages left
/// empty and fold-outs are tried only where a turn is left without time, and kept only where nothing cheaper mends it.
#[must_use]
pub fn propose(basis: &PartBasis) -> Option<PartPages> {
    cast_off(basis, None)
}

/// Both [`propose`] and [`fill`], which weigh the same lines.
#[must_use]
pub fn propose_and_fill(basis: &PartBasis) -> Option<(PartPages, PartPages)> {
    let pieces = Pieces::of(basis)?;
    let mut problem = lines::problem(basis, &pieces);
    let filled = filled(basis, &pieces, &problem)?;
    let plan = best(&mut problem, basis)?;
    Some((set::pages(basis, &pieces, &problem, &plan), filled))
}

/// The pages that cost least with a turn after a given bar; `None` where no page may end there, too.
#[must_use]
pub fn propose_turning_after(basis: &PartBasis, after: BarIdx) -> Option<PartPages> {
    cast_off(basis, Some(after))
}

/// Lines and pages filled up one after the other, without a thought for turns: no multi-bar rest is divided, and the
/// music starts on a right-hand page unless it has to start on a left-hand one. `None` as in [`propose`].
#[must_use]
pub fn fill(basis: &PartBasis) -> Option<PartPages> {
    let pieces = Pieces::of(basis)?;
    filled(basis, &pieces, &lines::problem(basis, &pieces))
}

fn filled(basis: &PartBasis, pieces: &Pieces, problem: &Problem) -> Option<PartPages> {
    let plan = fill::fill(problem, fill::start(basis.stand))?;
    Some(set::pages(basis, pieces, problem, &plan))
}

fn cast_off(basis: &PartBasis, turn_after: Option<BarIdx>) -> Option<PartPages> {
    let pieces = Pieces::of(basis)?;
    let mut problem = lines::problem(basis, &pieces);
    if let Some(after) = turn_after {
        problem.turn_at = Some(pieces.ending_with(after)?);
    }
    let plan = best(&mut problem, basis)?;
    Some(set::pages(basis, &pieces, &problem, &plan))
}

/// Without blank pages and fold-outs unless a bad turn is left that they mend.
fn best(problem: &mut Problem, basis: &PartBasis) -> Option<Plan> {
    let plain = search::best(problem)?;
    if !problem.has_remedies(basis.stand.binding) || !problem.turns_badly(&plain) {
        return Some(plain);
    }
    problem.remedies = sheet::Remedies::of(basis.player.hands);
    let mended = search::best(problem)?;
    Some(if mended.cost < plain.cost { mended } else { plain })
}
