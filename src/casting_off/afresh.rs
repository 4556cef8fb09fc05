//! Casting off afresh: what the files record of breaks, widths and distances is forgotten, their paper kept.
//!
//! The forecast fills lines and pages up, as automatic layout will. The proposal is the pages that cost least, found
//! over all ways to divide the music; systems and pages are decided together, since one system more may save a page
//! where few staves play. What is weighed against what stands in `cost`; how the best way is found in `search`.

use super::sheets::Sheets;
use super::{House, sources, texts, told};
use crate::layout::{BarRecord, Layout, Record};
use crate::metrics::Metrics;
use crate::place::{BarIdx, BarSpan};
use crate::score::Score;
use crate::units::Spaces;

use systems::Systems;

mod cost;
mod fill;
mod gaps;
mod needs;
mod notes;
mod paper;
mod search;
mod set;
mod spread;
mod staves;
mod systems;
mod words;

pub use needs::PageNeed;
pub use notes::{GivenUp, ProposalNote, Saved, Split, SplitSystem};
pub use paper::{Sheet, on_sheet};
pub use spread::natural_spread;

/// Which staves a system shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Staves {
    /// All, save the second staff of strings that are not divided.
    Full,
    /// Those that play; others as well where they would only come and go. A movement's first system shows all.
    #[default]
    Playing,
    /// Those that the pages at hand show in the same bars.
    AsRecorded,
}

/// Proposed systems without dividers stand further apart than automatic layout would have them: with the house's 8 spaces
/// six systems of a quartet looked like one block beside five on its recorded pages, which are 11 apart.
const LOW_SYSTEMS: f64 = 1.4;

/// What casting off is asked to keep.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wishes {
    /// Systems, and pages, that must begin with these bars.
    pub system_breaks: Vec<BarIdx>,
    pub page_breaks: Vec<BarIdx>,
    /// Passages that stand on one system.
    pub keep_together: Vec<BarSpan>,
}

impl Wishes {
    /// Every system of these pages as it is.
    #[must_use]
    pub fn keeping_systems(pages: &Layout) -> Wishes {
        let kept: Vec<BarSpan> = pages.systems().filter_map(|(_, _, system)| system.span()).collect();
        Wishes { system_breaks: kept.iter().map(|span| span.first).collect(), keep_together: kept, ..Wishes::default() }
    }
}

/// Pages that would be better, and why.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Proposal {
    /// Estimated throughout; paper, margins and staff heights are those at hand.
    pub layout: Layout,
    /// What it saves and what it gives up for that, against the pages at hand.
    pub notes: Vec<ProposalNote>,
    /// How much of each page at hand its own contents need; one entry a page.
    pub needs: Vec<PageNeed>,
}

/// What it rests on.
#[derive(Clone, Copy, Debug)]
pub struct Basis<'a> {
    pub score: &'a Score,
    pub metrics: &'a Metrics,
    pub record: &'a Record,
    /// The pages as they are.
    pub pages: &'a Layout,
    pub house: &'a House,
}

/// The pages as automatic layout will make them. `None` where there is no music, or no paper to put it on.
#[must_use]
pub fn forecast(basis: &Basis<'_>, wishes: &Wishes) -> Option<Layout> {
    let house = fill::habits(basis.house);
    let basis = Basis { house: &house, ..*basis };
    cast_off(&basis, wishes, |systems, room, title| Some(fill::fill(systems, room, title)))
}

/// Finds the pages that cost least. `None` where there is no music, or no paper to put it on.
#[must_use]
pub fn propose(basis: &Basis<'_>, wishes: &Wishes) -> Option<Proposal> {
    let house = House { low_systems: LOW_SYSTEMS, ..basis.house.clone() };
    let basis = &Basis { house: &house, ..*basis };
    let layout = cast_off(basis, wishes, |systems, room, title| {
        let problem = systems.problem(room, title);
        let steps = search::best(&problem)?;
        Some(steps.iter().filter_map(|step| Some((problem.candidates.get(step.candidate)?.clone(), *step))).collect())
    })?;
    let needs = basis.pages.pages.iter().map(|page| needs::need(basis, page, needs::Air::Least)).collect();
    let mut proposal = Proposal { layout, notes: Vec::new(), needs };
    proposal.notes = notes::notes(basis, &proposal);
    Some(proposal)
}

type Chosen = Vec<(search::Candidate, search::Step)>;

/// Sets each movement as it is chosen, from the room on a page and the room of a title.
fn cast_off(
    basis: &Basis<'_>,
    wishes: &Wishes,
    mut choose: impl FnMut(&mut Systems, Spaces, Spaces) -> Option<Chosen>,
) -> Option<Layout> {
    let mut sheets = Sheets::afresh(basis.score);
    let mut pages = Vec::new();
    let record = each_movement(basis, wishes, |systems, room, title| {
        let chosen = choose(systems, room, title)?;
        pages.extend(set::set(systems, &chosen, &mut sheets, room));
        Some(())
    })?;
    texts::place(basis.score, &sheets, &mut pages);
    let told = told::told(basis.score, &record, &pages);
    (!pages.is_empty()).then_some(Layout { document: basis.pages.document, told, pages })
}

/// Looks at the systems of each movement, with the room on a page and the room of a title. What is left of the record;
/// `None` where there is no paper, or where `look` gives up.
fn each_movement(
    basis: &Basis<'_>,
    wishes: &Wishes,
    mut look: impl FnMut(&mut Systems, Spaces, Spaces) -> Option<()>,
) -> Option<Record> {
    let Basis { score, metrics, house, .. } = *basis;
    let record = paper::without_breaks(basis.record, score.movements.iter().map(|movement| movement.bars));
    let spare = BarRecord::default();
    for source in sources(score, metrics, &record, house, &spare) {
        let bars = source.movement.bars;
        if bars.last < bars.first || bars.last.at() >= score.bars.len() {
            continue;
        }
        let room = paper::room(&source);
        if room <= Spaces::ZERO || paper::line_width(&source, bars.first) <= paper::NO_LINE {
            return None;
        }
        let showing = staves::Showing::of(&source, basis.pages, house.staves);
        let gauge = gaps::Gauge::new(score, &metrics.extents, house, bars);
        let mut systems = Systems::new(&source, &metrics.spacing, wishes, showing, gauge);
        look(&mut systems, room, paper::title_room(&source))?;
    }
    Some(record)
}

#[cfg(test)]
mod brute;
#[cfg(test)]
mod programme;
#[cfg(test)]
mod tests;
