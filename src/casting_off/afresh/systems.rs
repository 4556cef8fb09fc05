//! Every system that is worth trying: some neighbouring bars, and the staves they are shown with.

use super::Wishes;
use super::cost::{self, Landmark, Line};
use super::gaps::{Gauge, Heights, Stack};
use super::search::{Candidate, Problem};
use super::staves::{Sets, Showing, StaffSet};
use crate::casting_off::Source;
use crate::metrics::Spacing;
use crate::place::{BarIdx, BarSpan};
use crate::score::{Score, SystemMarkKind};
use crate::units::Spaces;

/// Tensions are bounded here, so that costs stay finite whatever the bars hold.
const UTMOST: f64 = 20.0;

/// The places where systems may begin and end, and what they would be like in between.
pub(super) struct Systems<'a> {
    pub source: &'a Source<'a>,
    pub spacing: &'a Spacing,
    pub wishes: &'a Wishes,
    pub showing: Showing,
    pub gauge: Gauge<'a>,
    /// By the number of their set.
    pub stacks: Vec<Stack>,
    sets: Sets,
    numbered: Vec<StaffSet>,
    /// First bars of units that no system divides, and the bar after the last.
    starts: Vec<BarIdx>,
    landmarks: Vec<Option<Landmark>>,
}

/// Some bars as one line.
pub(super) struct Trial {
    pub end: usize,
    pub bars: BarSpan,
    /// Over natural, as a logarithm.
    pub tension: f64,
    fill: f64,
}

impl<'a> Systems<'a> {
    pub fn new(
        source: &'a Source<'a>,
        spacing: &'a Spacing,
        wishes: &'a Wishes,
        showing: Showing,
        gauge: Gauge<'a>,
    ) -> Systems<'a> {
        let starts = starts(source, wishes);
        let landmarks = landmarks(source.score, source.movement.bars, &starts);
        let (stacks, sets, numbered) = (Vec::new(), Sets::default(), Vec::new());
        Systems { source, spacing, wishes, showing, gauge, stacks, sets, numbered, starts, landmarks }
    }

    /// All candidates, in order of their first and last bars and of the size of their sets.
    pub fn problem(&mut self, room: Spaces, title_room: Spaces) -> Problem {
        let units = self.starts.len().saturating_sub(1);
        let mut candidates = Vec::new();
        for first in 0..units {
            for trial in self.trials(first, units) {
                self.add(first, units, &trial, title_room, &mut candidates);
            }
        }
        let forced_pages = self.starts.iter().map(|bar| self.wishes.page_breaks.contains(bar)).collect();
        let sets = std::mem::take(&mut self.numbered);
        Problem { breaks: units, candidates, forced_pages, sets, room, house: self.source.house.clone() }
    }

    /// The lines that may begin with a unit: none too tight, none looser than needed; never none at all.
    fn trials(&self, first: usize, units: usize) -> Vec<Trial> {
        let mut trials: Vec<Trial> = Vec::new();
        for end in first + 1..=units {
            let Some(trial) = self.trial(first, end) else { break };
            if end > first + 1 && trial.tension < libm::log(cost::TIGHTEST) {
                break;
            }
            trials.push(trial);
            if self.starts.get(end).is_some_and(|bar| self.is_forced(*bar)) {
                break;
            }
        }
        let longest = trials.len().saturating_sub(1);
        let loosest = libm::log(cost::LOOSEST);
        let kept = |(at, trial): (usize, Trial)| (at == longest || trial.tension <= loosest).then_some(trial);
        trials.into_iter().enumerate().filter_map(kept).collect()
    }

    fn is_forced(&self, bar: BarIdx) -> bool {
        self.wishes.system_breaks.contains(&bar) || self.wishes.page_breaks.contains(&bar)
    }

    fn trial(&self, first: usize, end: usize) -> Option<Trial> {
        let (from, next) = (*self.starts.get(first)?, *self.starts.get(end)?);
        let bars = BarSpan::new(from, BarIdx(next.0.saturating_sub(1)));
        let width = self.width(from);
        let natural = self.spacing.natural_width(bars, self.source.house.natural_force);
        let force = self.spacing.force_for(bars, width) / self.source.house.natural_force;
        let tension = if force > 0.0 { libm::log(force).clamp(-UTMOST, UTMOST) } else { -UTMOST };
        Some(Trial { end, bars, tension, fill: (natural / width).clamp(0.0, 1.0) })
    }

    /// Of a line that begins with this bar.
    pub fn width(&self, first: BarIdx) -> Spaces {
        let width = super::paper::line_width(self.source, first);
        width.in_spaces(self.source.staff_height.value).max(Spaces(1.0))
    }

    /// A movement's last system that does not fill its line.
    pub fn is_short(&self, own: &Candidate) -> bool {
        own.first > 0 && own.bars.last == self.source.movement.bars.last && own.tension >= 0.0
    }

    /// The longest line that begins with a unit and is no wider than natural; a single unit where none is.
    pub fn natural(&self, first: usize) -> Option<Trial> {
        let mut longest = self.trial(first, first + 1)?;
        while !self.starts.get(longest.end).is_some_and(|bar| self.is_forced(*bar)) {
            match self.trial(first, longest.end + 1) {
                Some(longer) if longer.tension >= 0.0 => longest = longer,
                _ => break,
            }
        }
        Some(longest)
    }

    /// A line with as few staves as it can be shown with.
    pub fn leanest(&mut self, first: usize, trial: &Trial, title: Spaces) -> Option<Candidate> {
        let set = self.showing.choices(trial.bars).into_iter().next().map(|set| self.number(set))?;
        let heights = self.gauge.heights(self.stacks.get(set)?, trial.bars);
        let is_last = trial.end + 1 == self.starts.len() && first > 0;
        let tension = if is_last { trial.tension.min(0.0) } else { trial.tension };
        let top = if first == 0 { heights.above.max(title) } else { heights.above };
        let (end, bars) = (trial.end, trial.bars);
        Some(Candidate { first, end, bars, set, tension, cost: 0.0, page_bonus: 0.0, heights, top })
    }

    /// Whether a page has to begin with a unit.
    pub fn begins_page(&self, first: usize) -> bool {
        self.starts.get(first).is_some_and(|bar| self.wishes.page_breaks.contains(bar))
    }

    fn add(&mut self, first: usize, units: usize, trial: &Trial, title: Spaces, candidates: &mut Vec<Candidate>) {
        let is_last = trial.end == units && first > 0;
        // A last system that is not full is left short, not pulled apart.
        let tension = if is_last { trial.tension.min(0.0) } else { trial.tension };
        let line = Line { tension, fill: trial.fill, bars: trial.bars.count(), is_last };
        let landmark = self.landmarks.get(first).copied().flatten().map_or(0.0, Landmark::cost);
        let own = line.cost() + landmark;
        for choice in self.showing.choices(trial.bars) {
            let set = self.number(choice);
            let Some(stack) = self.stacks.get(set) else { continue };
            let heights = halved(self.gauge.heights(stack, trial.bars));
            let top = if first == 0 { heights.above.max(title) } else { heights.above };
            let (end, bars) = (trial.end, trial.bars);
            let cost = own + cost::LEFT_OUT * f64::from(self.showing.left_out(stack.staves.len()));
            candidates.push(Candidate { first, end, bars, set, tension, cost, page_bonus: landmark, heights, top });
        }
    }

    fn number(&mut self, set: StaffSet) -> usize {
        let (number, is_new) = self.sets.number(&set);
        if is_new {
            let states = self.showing.states.iter().filter(|state| set.has(state.staff.at())).copied().collect();
            let stack = self.gauge.stack(states);
            self.stacks.push(stack);
            self.numbered.push(set);
        }
        number
    }
}

/// Heights count in half spaces, rounded up, so that ways to fill a page can be told apart by few of them.
fn halved(heights: Heights) -> Heights {
    let up = |height: Spaces| Spaces(libm::ceil(height.0 * 2.0 - 1e-6) / 2.0);
    Heights {
        lines: up(heights.lines),
        least: up(heights.least),
        above: up(heights.above),
        below: up(heights.below),
        widest: up(heights.widest),
        apart: up(heights.apart),
    }
}

/// Multi-bar rests and kept passages are not divided; everything else is divided at any barline.
fn starts(source: &Source, wishes: &Wishes) -> Vec<BarIdx> {
    let bars = source.movement.bars;
    let mut starts = Vec::with_capacity(bars.count() as usize + 1);
    let mut rests_until = bars.first;
    for bar in bars.iter() {
        let kept = wishes.keep_together.iter().any(|span| span.contains(bar) && span.first != bar);
        if bar >= rests_until && (!kept || bar == bars.first) {
            starts.push(bar);
        }
        let rest = source.score.bar(bar).and_then(|own| own.multi_bar_rest).unwrap_or(1).max(1);
        rests_until = rests_until.max(BarIdx(bar.0.saturating_add(rest)));
    }
    starts.push(BarIdx(bars.last.0.saturating_add(1)));
    starts
}

/// By place where a system may begin; a movement's beginning is no choice, so it earns nothing.
fn landmarks(score: &Score, movement: BarSpan, starts: &[BarIdx]) -> Vec<Option<Landmark>> {
    let mut marked = vec![None; movement.count() as usize];
    let mut mark = |bar: BarIdx, landmark: Landmark| {
        let slot = bar.0.checked_sub(movement.first.0).and_then(|at| marked.get_mut(at as usize));
        if let Some(slot) = slot {
            *slot = Some(landmark);
        }
    };
    for own in score.marks.iter().filter(|mark| mark.onset.is_zero() && !mark.over.is_empty()) {
        if let SystemMarkKind::Tempo { .. } = own.kind {
            mark(own.bar, Landmark::Tempo);
        }
    }
    for bar in movement.iter().filter(|bar| score.bar(*bar).is_some_and(|own| own.right.is_double)) {
        mark(BarIdx(bar.0.saturating_add(1)), Landmark::DoubleBar);
    }
    for own in score.marks.iter().filter(|mark| mark.onset.is_zero()) {
        if let SystemMarkKind::Rehearsal(_) = own.kind {
            mark(own.bar, Landmark::Rehearsal);
        }
    }
    let at = |bar: &BarIdx| marked.get(bar.0.checked_sub(movement.first.0)? as usize).copied().flatten();
    starts.iter().map(|bar| if *bar == movement.first { None } else { at(bar) }).collect()
}
