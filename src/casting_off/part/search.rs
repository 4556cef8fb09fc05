//! The lines and pages that cost least.
//!
//! Places between pieces are gone through in order. At each place, and for each position of the page at hand in its
//! opening, those ways to come there are kept that no other one beats both in cost and in height used on the page; all
//! costs to come depend on nothing else, so the search is exact. It takes time in proportion to the music.

use super::Binding;
use super::cost;
use super::sheet::{FOLDED, Phase, Remedies};
use crate::players::turning::TurnClass;

/// Lines to choose from, and what pages are made of. Heights are in half spaces.
#[derive(Clone, Debug)]
pub(super) struct Problem {
    /// Before the first piece, between neighbouring ones, after the last.
    pub places: Vec<Place>,
    /// In order of their first pieces and of their ends.
    pub trials: Vec<Trial>,
    /// By place: the first of the trials that begin there; one more for the end.
    pub first_trials: Vec<usize>,
    pub room: u32,
    /// Taken on the first page.
    pub title: u32,
    /// Pages that lie open side by side.
    pub at_once: Phase,
    /// Where in an opening the music may start.
    pub starts: Vec<Phase>,
    pub remedies: Remedies,
    /// A place where it has to be turned.
    pub turn_at: Option<usize>,
}

/// A place between two pieces.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    /// Inside a multi-bar rest: only a turn may divide it.
    pub inside: bool,
    /// What turning here costs.
    pub turn: f64,
    pub class: Option<TurnClass>,
}

/// Some neighbouring pieces as one line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Trial {
    pub first: usize,
    pub end: usize,
    /// Over natural, as a logarithm.
    pub tension: f64,
    pub cost: f64,
    pub height: u32,
}

/// What happens at the end of a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum End {
    /// The next page lies beside it.
    Beside,
    Turn,
    /// The right-hand page beside it stays empty, then it is turned.
    BlankThenTurn,
    /// It is turned to a left-hand page that stays empty.
    TurnThenBlank,
    /// The next page folds out beside it.
    FoldOut,
    /// The music ends.
    Last,
}

/// One page.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PagePlan {
    pub phase: Phase,
    /// Among the trials.
    pub lines: Vec<usize>,
    pub end: End,
}

/// All pages, and what they cost.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Plan {
    pub pages: Vec<PagePlan>,
    pub cost: f64,
}

/// A way to have come to a place. A search keeps many of them, so each is small.
#[derive(Clone, Copy, Debug)]
struct Label {
    cost: f64,
    used: u32,
    /// The line that ends here.
    trial: u32,
    /// The way to where that line begins, among those kept.
    before: Option<u32>,
    phase: Phase,
    /// That line begins a page, and so ended the page before.
    begins: Option<End>,
}

/// A page that may begin at a place.
#[derive(Clone, Copy, Debug)]
struct Fresh {
    cost: f64,
    before: Option<u32>,
    end: End,
}

/// Positions in an opening, the folded page among them.
const PHASES: usize = 3;

impl Problem {
    /// Whether paper can mend a turn so bound.
    pub fn has_remedies(&self, binding: Binding) -> bool {
        matches!(binding, Binding::Booklet | Binding::Cover)
    }

    /// Whether a turn of a plan leaves no time, or next to none.
    pub fn turns_badly(&self, plan: &Plan) -> bool {
        let places = plan.pages.iter().filter(|page| page.end != End::Beside && page.end != End::Last);
        let mut ends = places.filter_map(|page| self.trials.get(*page.lines.last()?)).map(|trial| trial.end);
        ends.any(|place| {
            let class = self.places.get(place).and_then(|place| place.class);
            !matches!(class, Some(TurnClass::Easy | TurnClass::Enough))
        })
    }

    /// The trials that begin at a place.
    pub fn trials_from(&self, place: usize) -> impl Iterator<Item = (usize, &Trial)> {
        let from = self.first_trials.get(place).copied().unwrap_or(self.trials.len());
        let to = self.first_trials.get(place + 1).copied().unwrap_or(self.trials.len());
        self.trials.get(from..to).unwrap_or_default().iter().enumerate().map(move |(at, trial)| (from + at, trial))
    }

    /// The last place.
    pub fn end(&self) -> usize {
        self.places.len().saturating_sub(1)
    }

    /// The ways to end a page in this position at a place: what it costs, and the position of the next page.
    pub fn endings(&self, place: usize, phase: Phase) -> impl Iterator<Item = (End, f64, Phase)> {
        let own = self.places.get(place).copied().unwrap_or(Place { inside: false, turn: 0.0, class: None });
        let must_turn = own.inside || self.turn_at == Some(place);
        let is_outer = phase + 1 >= self.at_once;
        let Remedies { blank, fold_out } = self.remedies;
        let beside = (!is_outer && !must_turn).then_some((End::Beside, 0.0, phase + 1));
        let turn = is_outer.then_some((End::Turn, own.turn, 0));
        let empty = cost::PAGE + cost::BLANK;
        let first = (blank && !is_outer).then_some((End::BlankThenTurn, own.turn + empty, 0));
        let then =
            (blank && is_outer).then_some((End::TurnThenBlank, own.turn + empty, self.at_once.saturating_sub(1)));
        let fold = (fold_out && phase + 1 == self.at_once && !must_turn).then_some((
            End::FoldOut,
            cost::TURN + cost::FOLD_OUT,
            FOLDED,
        ));
        [beside, turn, first, then, fold].into_iter().flatten()
    }

    /// What it costs to start there.
    pub fn start(&self, phase: Phase) -> f64 {
        if self.starts.first() == Some(&phase) { 0.0 } else { cost::OTHER_START }
    }

    /// What a line costs where it begins a page, the page's paper included; `used` is what it takes of it.
    pub fn opening(&self, trial: &Trial) -> (f64, u32) {
        let used = trial.height + if trial.first == 0 { self.title } else { 0 };
        let over = if used > self.room { cost::IMPOSSIBLE } else { 0.0 };
        let runt = if trial.end == self.end() && trial.first > 0 { cost::RUNT_PAGE } else { 0.0 };
        (cost::PAGE + trial.cost + over + runt, used)
    }

    /// Whether a line runs over the place where it has to be turned.
    pub fn runs_over(&self, trial: &Trial) -> bool {
        self.turn_at.is_some_and(|place| trial.first < place && place < trial.end)
    }
}

/// Finds the plan that costs least; among equals the first in a fixed order. `None` where there is none.
pub(super) fn best(problem: &Problem) -> Option<Plan> {
    let end = problem.end();
    let mut fronts: Vec<Vec<Label>> = vec![Vec::new(); (end + 1) * PHASES];
    let mut kept: Vec<Label> = Vec::with_capacity(end * 8);
    // Lists that were emptied: most places need as many.
    let mut spare: Vec<Vec<Label>> = Vec::new();
    for place in 0..end {
        let mut fresh = [None; PHASES];
        if place == 0 {
            for phase in &problem.starts {
                if let Some(slot) = fresh.get_mut(usize::from(*phase)) {
                    *slot = Some(Fresh { cost: problem.start(*phase), before: None, end: End::Last });
                }
            }
        }
        let from = kept.len();
        for phase in 0..PHASES {
            let mut labels = fronts.get_mut(place * PHASES + phase).map(std::mem::take).unwrap_or_default();
            // The cheapest stands last: each is lower on the page than those after it.
            if let Some(cheapest) = labels.last() {
                let before = Some(numbered(kept.len() + labels.len() - 1));
                for (end, cost, next) in problem.endings(place, phase as Phase) {
                    let cost = cheapest.cost + cost;
                    if let Some(slot) = fresh.get_mut(usize::from(next))
                        && slot.is_none_or(|known: Fresh| cost < known.cost)
                    {
                        *slot = Some(Fresh { cost, before, end });
                    }
                }
            }
            kept.append(&mut labels);
            spare.push(labels);
        }
        let goes_on = !problem.places.get(place).is_some_and(|place| place.inside) && problem.turn_at != Some(place);
        let own = if goes_on { from..kept.len() } else { 0..0 };
        for (at, trial) in problem.trials_from(place).filter(|(_, trial)| !problem.runs_over(trial)) {
            let target = trial.end * PHASES;
            let (cost, used) = problem.opening(trial);
            for (phase, fresh) in fresh.iter().enumerate() {
                let Some((fresh, front)) = fresh.as_ref().zip(fronts.get_mut(target + phase)) else { continue };
                let (cost, begins) = (fresh.cost + cost, Some(fresh.end));
                let (trial, phase, before) = (numbered(at), phase as Phase, fresh.before);
                put(front, Label { cost, used, trial, before, phase, begins }, &mut spare);
            }
            for before in own.clone() {
                let Some(label) = kept.get(before) else { continue };
                let used = label.used + trial.height;
                if used > problem.room {
                    continue;
                }
                if let Some(front) = fronts.get_mut(target + usize::from(label.phase)) {
                    let (cost, phase, before) = (label.cost + trial.cost, label.phase, Some(numbered(before)));
                    put(front, Label { cost, used, trial: numbered(at), before, phase, begins: None }, &mut spare);
                }
            }
        }
    }
    let last = (0..PHASES).filter_map(|phase| fronts.get(end * PHASES + phase)?.last().copied());
    let last = last.reduce(|best, other| if other.cost < best.cost { other } else { best })?;
    Some(plan(&kept, last))
}

/// Labels stand in order of height, lowest use first, and each costs less than the one before it; what is beaten in both goes.
/// A list that holds nothing yet may be one of the spare ones.
fn put(front: &mut Vec<Label>, label: Label, spare: &mut Vec<Vec<Label>>) {
    if front.capacity() == 0 {
        *front = spare.pop().unwrap_or_default();
    }
    let after = front.partition_point(|own| own.used <= label.used);
    let below = after.checked_sub(1).and_then(|at| front.get(at));
    if below.is_some_and(|own| own.cost <= label.cost) {
        return;
    }
    let at = if below.is_some_and(|own| own.used == label.used) { after - 1 } else { after };
    let beaten = front.get(at..).unwrap_or_default().iter().take_while(|own| own.cost >= label.cost).count();
    match front.get_mut(at).filter(|_| beaten > 0) {
        Some(slot) => {
            *slot = label;
            if beaten > 1 {
                front.drain(at + 1..at + beaten);
            }
        }
        None => front.insert(at, label),
    }
}

/// Of what is counted here there are never four thousand million.
fn numbered(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

fn plan(kept: &[Label], last: Label) -> Plan {
    let mut pages = Vec::new();
    let mut page = PagePlan { phase: last.phase, lines: Vec::new(), end: End::Last };
    let mut label = Some(last);
    while let Some(own) = label {
        page.lines.push(own.trial as usize);
        let before = own.before.and_then(|at| kept.get(at as usize)).copied();
        if let Some(end) = own.begins {
            page.lines.reverse();
            let phase = before.map_or(0, |before| before.phase);
            pages.push(std::mem::replace(&mut page, PagePlan { phase, lines: Vec::new(), end }));
        }
        label = before;
    }
    pages.reverse();
    Plan { pages, cost: last.cost.min(f64::MAX) }
}

impl Plan {
    /// The places where it is turned, and the page that each ends, empty pages counted.
    pub fn turns(&self, problem: &Problem) -> Vec<(usize, usize)> {
        let mut turns = Vec::new();
        let mut at = 0;
        for page in &self.pages {
            let place = page.lines.last().and_then(|line| problem.trials.get(*line)).map_or(0, |trial| trial.end);
            match page.end {
                End::Turn | End::TurnThenBlank => turns.push((place, at)),
                End::BlankThenTurn => turns.push((place, at + 1)),
                End::Beside | End::FoldOut | End::Last => {}
            }
            at += 1 + usize::from(page.end.leaves_blank());
        }
        turns
    }
}

impl End {
    /// An empty page follows.
    pub fn leaves_blank(self) -> bool {
        matches!(self, End::BlankThenTurn | End::TurnThenBlank)
    }
}
