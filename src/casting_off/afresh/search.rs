//! The best way through all systems and pages, by dynamic programming.
//!
//! A state is the last system laid down: which bars, which staves. Costs between neighbouring systems depend on those
//! two alone, so the bars of one line bound the work: with `K` candidates that begin or end at a barline the search
//! takes time in proportion to bars times `K * K`. What a page already holds is told by one height. For one state all
//! pairs of cost and height are kept that may still win: of two, the one that is neither cheaper nor lower is dropped.
//! That is exact because a page's cost never falls as it fills up, save that of the last page, whose fall is convex
//! and allowed for. Equal costs are decided by order: earlier bars first, smaller sets first.

use super::cost;
use super::gaps::{Heights, between};
use super::staves::StaffSet;
use crate::casting_off::House;
use crate::place::BarSpan;
use crate::units::Spaces;

/// One system that may be chosen.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Candidate {
    /// Places between units of music: it begins at the first and ends before the other.
    pub first: usize,
    pub end: usize,
    pub bars: BarSpan,
    /// Number of its set of staves.
    pub set: usize,
    /// Over natural, as a logarithm.
    pub tension: f64,
    /// Of the line alone.
    pub cost: f64,
    /// Added where it begins a page; negative at landmarks.
    pub page_bonus: f64,
    pub heights: Heights,
    /// From the top margin to its first staff where it begins a page.
    pub top: Spaces,
}

/// All that the search chooses from, for one movement.
#[derive(Clone, Debug, Default)]
pub(super) struct Problem {
    /// Units of music.
    pub breaks: usize,
    /// In order of `first`.
    pub candidates: Vec<Candidate>,
    /// By place: whether a page has to begin there.
    pub forced_pages: Vec<bool>,
    pub sets: Vec<StaffSet>,
    /// Between the margins of a page.
    pub room: Spaces,
    pub house: House,
}

/// One system of a solution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Step {
    pub candidate: usize,
    pub begins_page: bool,
}

impl Problem {
    /// What two neighbouring systems cost beside what each costs alone.
    pub fn neighbours(&self, above: &Candidate, below: &Candidate) -> f64 {
        let sets = self.sets.get(above.set).zip(self.sets.get(below.set));
        let toggled = if above.set == below.set { 0 } else { sets.map_or(0, |(one, other)| one.toggled(other)) };
        cost::neighbours(above.tension, below.tension, toggled)
    }

    /// A page with one system on it and nothing else.
    fn alone(&self, own: &Candidate) -> f64 {
        let (above, below) = (own.top + own.heights.lines, own.heights.below);
        cost::page(above + below, self.room) + cost::overfull(own.top + own.heights.least + below, self.room)
    }

    /// What a page costs that is filled down to the bottom line of this system, which may be the first on it.
    pub fn page(&self, own: &Candidate, used: Spaces, is_first: bool) -> f64 {
        if is_first { self.alone(own) } else { cost::page(used + own.heights.below, self.room) }
    }

    pub fn is_forced_page(&self, place: usize) -> bool {
        place == 0 || self.forced_pages.get(place).copied().unwrap_or(false)
    }
}

/// The cheapest solution; `None` where no candidates lead from the first bar to the last.
pub(super) fn best(problem: &Problem) -> Option<Vec<Step>> {
    let mut search = Search::new(problem);
    for at in 0..problem.candidates.len() {
        search.reach(at);
    }
    search.trace(search.cheapest_end()?)
}

/// A way to lay down all music up to the end of a candidate.
#[derive(Clone, Copy, Debug)]
struct Label {
    /// Without the page that it stands on.
    cost: f64,
    /// From the page's top margin to the bottom line of its last system.
    used: Spaces,
    before: Option<Mark>,
    begins_page: bool,
}

/// A label of a candidate.
#[derive(Clone, Copy, Debug)]
struct Mark {
    candidate: usize,
    label: usize,
}

struct Search<'a> {
    problem: &'a Problem,
    /// By place: candidates that end there.
    ending: Vec<Vec<usize>>,
    /// By candidate.
    labels: Vec<Vec<Label>>,
    /// By candidate: its cheapest label with its page closed, and that cost.
    closed: Vec<Option<(Mark, f64)>>,
}

impl<'a> Search<'a> {
    fn new(problem: &'a Problem) -> Search<'a> {
        let mut ending = vec![Vec::new(); problem.breaks + 1];
        for (at, candidate) in problem.candidates.iter().enumerate() {
            if let Some(list) = ending.get_mut(candidate.end) {
                list.push(at);
            }
        }
        let count = problem.candidates.len();
        Search { problem, ending, labels: vec![Vec::new(); count], closed: vec![None; count] }
    }

    /// Finds all ways to a candidate; those to all that end where it begins are known.
    fn reach(&mut self, at: usize) {
        let Some(own) = self.problem.candidates.get(at) else { return };
        let mut found = Vec::new();
        let on_new_page = own.top + own.heights.lines;
        if own.first == 0 {
            let cost = own.cost + own.page_bonus;
            found.push(Label { cost, used: on_new_page, before: None, begins_page: true });
        } else {
            self.turn(own, on_new_page, &mut found);
            if !self.problem.is_forced_page(own.first) {
                self.go_on(own, &mut found);
            }
        }
        self.close(at, own, &found);
        if let Some(labels) = self.labels.get_mut(at) {
            *labels = found;
        }
    }

    fn before(&self, own: &Candidate) -> impl Iterator<Item = (usize, &'a Candidate)> {
        let ending = self.ending.get(own.first).into_iter().flatten().copied();
        let candidates = &self.problem.candidates;
        ending.filter_map(move |at| Some((at, candidates.get(at)?)))
    }

    /// On a new page only the cheapest way counts.
    fn turn(&self, own: &Candidate, used: Spaces, found: &mut Vec<Label>) {
        let mut best: Option<Label> = None;
        for (at, above) in self.before(own) {
            let Some((mark, closed)) = self.closed.get(at).copied().flatten() else { continue };
            let cost = closed + self.problem.neighbours(above, own) + own.cost + own.page_bonus;
            if best.is_none_or(|best| cost < best.cost) {
                best = Some(Label { cost, used, before: Some(mark), begins_page: true });
            }
        }
        found.extend(best);
    }

    /// Below the systems that the page already holds.
    fn go_on(&self, own: &Candidate, found: &mut Vec<Label>) {
        for (candidate, above) in self.before(own) {
            let down = between(&self.problem.house, &above.heights, &own.heights) + own.heights.lines;
            let mut cost = None;
            for (label, way) in self.labels.get(candidate).into_iter().flatten().enumerate() {
                let used = way.used + down;
                if used + own.heights.below > self.problem.room {
                    continue;
                }
                let step = *cost.get_or_insert_with(|| self.problem.neighbours(above, own) + own.cost + cost::SPLIT);
                let before = Some(Mark { candidate, label });
                self.keep(found, Label { cost: way.cost + step, used, before, begins_page: false });
            }
        }
    }

    fn keep(&self, found: &mut Vec<Label>, new: Label) {
        if found.iter().any(|old| self.beats(old, &new)) {
            return;
        }
        found.retain(|old| !self.beats(&new, old));
        found.push(new);
    }

    /// Whatever follows, the one will not cost more than the other.
    fn beats(&self, one: &Label, other: &Label) -> bool {
        let last = |label: &Label| cost::last_page(label.used, self.problem.room);
        one.used <= other.used && one.cost + last(one) - last(other) <= other.cost
    }

    fn close(&mut self, at: usize, own: &Candidate, labels: &[Label]) {
        let mut best: Option<(Mark, f64)> = None;
        for (label, way) in labels.iter().enumerate() {
            let cost = way.cost + self.problem.page(own, way.used, way.begins_page);
            if best.is_none_or(|(_, least)| cost < least) {
                best = Some((Mark { candidate: at, label }, cost));
            }
        }
        if let Some(closed) = self.closed.get_mut(at) {
            *closed = best;
        }
    }

    fn cheapest_end(&self) -> Option<Mark> {
        let mut best: Option<(Mark, f64)> = None;
        for candidate in self.ending.get(self.problem.breaks)?.iter().copied() {
            let Some(own) = self.problem.candidates.get(candidate) else { continue };
            for (label, way) in self.labels.get(candidate).into_iter().flatten().enumerate() {
                let page = self.problem.page(own, way.used, way.begins_page);
                let cost = way.cost + page + cost::last_page(way.used + own.heights.below, self.problem.room);
                if best.is_none_or(|(_, least)| cost < least) {
                    best = Some((Mark { candidate, label }, cost));
                }
            }
        }
        best.map(|(mark, _)| mark)
    }

    fn trace(&self, end: Mark) -> Option<Vec<Step>> {
        let mut steps = Vec::new();
        let mut at = Some(end);
        while let Some(mark) = at {
            let label = self.labels.get(mark.candidate)?.get(mark.label)?;
            steps.push(Step { candidate: mark.candidate, begins_page: label.begins_page });
            at = label.before;
        }
        steps.reverse();
        Some(steps)
    }
}
