//! The proposal: the pages that cost least, found over all ways to divide the music into systems and pages.
//!
//! Systems and pages are decided together, since one system more may save a page where few staves play. What is weighed
//! against what stands in `cost`; how the best way is found in `search`.

use super::sheets::Sheets;
use super::{House, Measures, Source, staff_height, texts, told};
use crate::layout::{BarRecord, Layout, Record};
use crate::metrics::{Extents, Spacing};
use crate::place::{BarIdx, BarSpan};
use crate::score::Score;
use crate::units::Spaces;

mod cost;
mod gaps;
mod habits;
mod needs;
mod notes;
mod pages;
mod search;
mod sheet;
mod staves;
mod systems;
mod words;

pub use needs::PageNeed;
pub use notes::{GivenUp, ProposalNote, Saved, Split, SplitSystem};

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

/// What a proposal is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Wishes {
    pub staves: Staves,
    /// Systems, and pages, that must begin with these bars.
    pub system_breaks: Vec<BarIdx>,
    pub page_breaks: Vec<BarIdx>,
    /// Passages that stand on one system.
    pub keep_together: Vec<BarSpan>,
    /// The force of [`Spacing`] that this house calls natural.
    pub natural_force: f64,
    /// From staff line to staff line, whatever stands between.
    pub least_gap: Spaces,
    /// Systems of so many staves have divider marks between them.
    pub dividers_from: u32,
}

impl Default for Wishes {
    /// - 4 spaces between staves: Gould, Behind Bars, pp. 488 and 517 (second-hand).
    /// - Dividers from six staves on: common practice.
    fn default() -> Self {
        Wishes {
            staves: Staves::default(),
            system_breaks: Vec::new(),
            page_breaks: Vec::new(),
            keep_together: Vec::new(),
            natural_force: 1.0,
            least_gap: Spaces(4.0),
            dividers_from: 6,
        }
    }
}

/// Pages that would be better, and why.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Proposal {
    /// Estimated throughout; paper, margins and staff heights are those at hand.
    pub layout: Layout,
    /// How wide each system is set against its natural width, in reading order: 0.95 is 5 % tighter.
    pub stretches: Vec<f64>,
    /// What it saves and what it gives up for that, against the pages at hand.
    pub notes: Vec<ProposalNote>,
    /// How much of each page at hand its own contents need; one entry a page.
    pub needs: Vec<PageNeed>,
}

/// What a proposal rests on.
#[derive(Clone, Copy, Debug)]
pub struct Basis<'a> {
    pub score: &'a Score,
    pub record: &'a Record,
    /// The pages as they are.
    pub pages: &'a Layout,
    pub house: &'a House,
    pub extents: &'a Extents,
    pub spacing: &'a Spacing,
}

/// Finds the pages that cost least. `None` where there is no music, or no paper to put it on.
#[must_use]
pub fn propose(basis: &Basis<'_>, wishes: &Wishes) -> Option<Proposal> {
    let Basis { score, house, .. } = *basis;
    let record = sheet::without_breaks(basis.record, score.movements.iter().map(|movement| movement.bars.first));
    let spare = BarRecord::default();
    let measures = Measures::of(score);
    let mut sheets = Sheets::new(score);
    let mut proposal = Proposal { needs: needs::needs(basis, wishes), ..Proposal::default() };
    for (at, movement) in score.movements.iter().enumerate() {
        let source = Source {
            score,
            house,
            movement,
            records: &record.bars,
            defaults: record.defaults.get(at).unwrap_or(&spare),
            spare: &spare,
            staff_height: staff_height(&record, at, house),
            measures: &measures,
        };
        add_movement(&source, basis, wishes, &mut sheets, &mut proposal)?;
    }
    texts::place(score, &sheets, &mut proposal.layout.pages);
    proposal.layout.told = told::told(score, &record, &proposal.layout.pages);
    proposal.layout.document = basis.pages.document;
    proposal.notes = notes::notes(basis, wishes, &proposal);
    (!proposal.layout.pages.is_empty()).then_some(proposal)
}

fn add_movement(
    source: &Source,
    basis: &Basis<'_>,
    wishes: &Wishes,
    sheets: &mut Sheets,
    proposal: &mut Proposal,
) -> Option<()> {
    let bars = source.movement.bars;
    if bars.last < bars.first || bars.last.at() >= source.score.bars.len() {
        return Some(());
    }
    let room = sheet::room(source);
    if room <= Spaces::ZERO {
        return None;
    }
    let showing = staves::Showing::of(source, basis.pages, wishes.staves);
    let gauge = gaps::Gauge::new(source.score, basis.extents, source.house, wishes, bars);
    let mut systems = systems::Systems::new(source, basis.spacing, wishes, showing, gauge);
    let problem = systems.problem(room, sheet::title_room(source));
    let steps = search::best(&problem)?;
    let chosen: Vec<(search::Candidate, search::Step)> =
        steps.iter().filter_map(|step| Some((problem.candidates.get(step.candidate)?.clone(), *step))).collect();
    proposal.stretches.extend(chosen.iter().map(|(own, _)| libm::exp(own.tension)));
    proposal.layout.pages.extend(pages::set(&systems, &chosen, sheets, room));
    Some(())
}

#[cfg(test)]
mod brute;
#[cfg(test)]
mod tests;
