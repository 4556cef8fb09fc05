//! Which staves a proposed system shows.
//!
//! What must be shown is told bar by bar; a system shows what any of its bars needs, and beyond that as much as keeps
//! the set of staves calm and still finds room.

use std::collections::BTreeMap;

use super::Staves;
use crate::casting_off::Source;
use crate::casting_off::staves::{StaffState, absent_staves, apply, first_states};
use crate::layout::Layout;
use crate::place::{BarIdx, BarSpan, StaffId};
use crate::score::{Family, GroupSymbol, Score};

/// A set of staves, one bit each.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct StaffSet(Vec<u64>);

impl StaffSet {
    fn none(staves: usize) -> StaffSet {
        StaffSet(vec![0; staves.div_ceil(64)])
    }

    pub fn insert(&mut self, staff: usize) {
        if let Some(word) = self.0.get_mut(staff / 64) {
            *word |= 1 << (staff % 64);
        }
    }

    pub fn has(&self, staff: usize) -> bool {
        self.0.get(staff / 64).is_some_and(|word| word & (1 << (staff % 64)) != 0)
    }

    fn add(&mut self, other: &StaffSet) {
        self.0.iter_mut().zip(&other.0).for_each(|(own, other)| *own |= other);
    }

    fn is_empty(&self) -> bool {
        self.0.iter().all(|word| *word == 0)
    }

    /// Staves that are in one of the two only.
    pub fn toggled(&self, other: &StaffSet) -> u32 {
        self.0.iter().zip(&other.0).map(|(own, other)| (own ^ other).count_ones()).sum()
    }
}

#[cfg(test)]
impl FromIterator<usize> for StaffSet {
    fn from_iter<I: IntoIterator<Item = usize>>(staves: I) -> StaffSet {
        let mut set = StaffSet::none(64);
        staves.into_iter().for_each(|staff| set.insert(staff));
        set
    }
}

/// A staff that is shown together with others or not at all, and the set of them.
type Together = Vec<(usize, StaffSet)>;

/// What one movement's systems may show.
pub(super) struct Showing {
    bars: BarSpan,
    /// By staff: lines, scale, role; `shown` where this movement has the staff at all.
    pub states: Vec<StaffState>,
    /// What the bars need, bar by bar.
    needed: Vec<StaffSet>,
    /// All but the extra staves of divided strings.
    whole: StaffSet,
    /// Keyboards, harps and what braces hold.
    together: Together,
    policy: Staves,
}

/// Bars before and after a system whose staves it may show as well, lest they come and go.
const NEAR: u32 = 6;

impl Showing {
    pub fn of(source: &Source, pages: &Layout, policy: Staves) -> Showing {
        let states = states(source);
        let whole = whole(source.score, &states);
        let together = together(source.score, &states);
        let needed = match policy {
            Staves::Full => playing(source, &states, |set| set.add(&whole)),
            Staves::Playing => playing(source, &states, |_| {}),
            Staves::AsRecorded => recorded(source, pages, &states),
        };
        let needed = needed.into_iter().map(|set| closed(set, &together)).collect();
        Showing { bars: source.movement.bars, states, needed, whole, together, policy }
    }

    /// The sets that these bars may be shown with as one system, the smallest first; at least one.
    pub fn choices(&self, bars: BarSpan) -> Vec<StaffSet> {
        let lean = self.union(bars);
        let mut whole = self.whole.clone();
        whole.add(&lean);
        let whole = closed(whole, &self.together);
        let is_first = bars.first == self.bars.first;
        if self.policy != Staves::Playing {
            // A recorded set is the file's word, even on the first system.
            return vec![if lean.is_empty() { whole } else { lean }];
        }
        // The first system of a movement shows all; nobody playing at all is shown by everybody.
        if is_first || lean.is_empty() {
            return vec![whole];
        }
        let first = BarIdx(bars.first.0.saturating_sub(NEAR).max(self.bars.first.0));
        let last = BarIdx(bars.last.0.saturating_add(NEAR).min(self.bars.last.0));
        let mut choices = vec![lean, self.union(BarSpan::new(first, last)), whole];
        choices.dedup();
        choices
    }

    /// How many of a movement's staves a system of so many leaves out.
    pub fn left_out(&self, shown: usize) -> u32 {
        let whole: u32 = self.whole.0.iter().map(|word| word.count_ones()).sum();
        whole.saturating_sub(shown as u32)
    }

    fn union(&self, bars: BarSpan) -> StaffSet {
        let mut all = StaffSet::none(self.states.len());
        let first = (bars.first.0.saturating_sub(self.bars.first.0)) as usize;
        let own = self.needed.get(first..first + bars.count() as usize).unwrap_or_default();
        own.iter().for_each(|set| all.add(set));
        all
    }
}

fn states(source: &Source) -> Vec<StaffState> {
    let absent = absent_staves(source);
    let mut states = first_states(source);
    apply(source.record(source.movement.bars.first), false, &mut states);
    for state in &mut states {
        state.shown = !absent.get(state.staff.at()).copied().unwrap_or(false);
    }
    states
}

/// A string section's second staff stands only where it is divided.
fn is_division(score: &Score, staff: StaffId) -> bool {
    let own = score.staves.get(staff.at()).is_some_and(|staff| staff.number > 1);
    own && score.part_of(staff).is_some_and(|part| part.family == Family::Strings)
}

fn whole(score: &Score, states: &[StaffState]) -> StaffSet {
    let mut whole = StaffSet::none(states.len());
    let lasting = states.iter().filter(|state| state.shown && !is_division(score, state.staff));
    lasting.for_each(|state| whole.insert(state.staff.at()));
    if whole.is_empty() {
        states.iter().for_each(|state| whole.insert(state.staff.at()));
    }
    whole
}

/// Both hands of one player, and staves that a brace over several parts holds.
fn together(score: &Score, states: &[StaffState]) -> Together {
    let shown = |staff: &StaffId| states.get(staff.at()).is_some_and(|state| state.shown);
    let braced = score.groups.iter().filter(|group| group.symbol == GroupSymbol::Brace);
    let mut together = Together::new();
    let mut bind = |staves: Vec<StaffId>| {
        let mut set = StaffSet::none(states.len());
        staves.iter().for_each(|staff| set.insert(staff.at()));
        together.extend(staves.iter().map(|staff| (staff.at(), set.clone())));
    };
    for (at, part) in score.parts.iter().enumerate() {
        let staves = || score.staves_of(crate::place::PartId(at as u16)).filter(shown).collect::<Vec<StaffId>>();
        if part.family == Family::Keyboard {
            bind(staves());
        }
    }
    for group in braced {
        let own = |at: &usize| {
            score.staves.get(*at).is_some_and(|staff| group.first <= staff.part && staff.part <= group.last)
        };
        let staves = (0..states.len()).filter(own).map(|at| StaffId(at as u16));
        bind(staves.filter(shown).filter(|staff| !is_division(score, *staff)).collect());
    }
    together
}

fn closed(mut set: StaffSet, together: &Together) -> StaffSet {
    for (staff, others) in together {
        if set.has(*staff) {
            set.add(others);
        }
    }
    set
}

/// Bar by bar the staves that print more than rests.
fn playing(source: &Source, states: &[StaffState], with: impl Fn(&mut StaffSet)) -> Vec<StaffSet> {
    let bar = |bar: BarIdx| {
        let mut set = StaffSet::none(states.len());
        for state in states.iter().filter(|state| state.shown) {
            if source.score.cell(bar, state.staff).is_some_and(|cell| !cell.is_silent()) {
                set.insert(state.staff.at());
            }
        }
        with(&mut set);
        set
    };
    source.movement.bars.iter().map(bar).collect()
}

/// Bar by bar the staves of the system that it is printed on.
fn recorded(source: &Source, pages: &Layout, states: &[StaffState]) -> Vec<StaffSet> {
    let bars = source.movement.bars;
    let mut sets = vec![StaffSet::none(states.len()); bars.count() as usize];
    for (_, _, system) in pages.systems() {
        let Some(span) = system.span().filter(|span| bars.contains(span.first)) else { continue };
        let mut shown = StaffSet::none(states.len());
        system.staves.iter().filter_map(|staff| staff.staff).for_each(|staff| shown.insert(staff.at()));
        for bar in span.iter() {
            if let Some(set) = sets.get_mut((bar.0 - bars.first.0) as usize) {
                set.add(&shown);
            }
        }
    }
    sets
}

/// Every set that some system may show, each once.
#[derive(Default)]
pub(super) struct Sets {
    by_set: BTreeMap<StaffSet, usize>,
}

impl Sets {
    /// The number of a set, and whether it is new.
    pub fn number(&mut self, set: &StaffSet) -> (usize, bool) {
        let next = self.by_set.len();
        match self.by_set.get(set) {
            Some(number) => (*number, false),
            None => {
                self.by_set.insert(set.clone(), next);
                (next, true)
            }
        }
    }
}

impl Staves {
    /// As the pages have it: silent staves are left out where the pages leave out any staff that plays elsewhere in
    /// its movement.
    #[must_use]
    pub fn by_habit(score: &Score, pages: &Layout) -> Staves {
        let leaves_out = score.movements.iter().any(|movement| {
            let own = |staff: &StaffId| !is_division(score, *staff) && has_music(score, movement.bars, *staff);
            let playing: Vec<StaffId> = (0..score.staves.len()).map(|at| StaffId(at as u16)).filter(own).collect();
            let systems = pages.systems().map(|(_, _, system)| system);
            let mut systems = systems.filter(|own| own.span().is_some_and(|bars| movement.bars.contains(bars.first)));
            systems.any(|system| {
                let shown = |staff: &StaffId| system.staves.iter().any(|printed| printed.staff == Some(*staff));
                playing.iter().any(|staff| !shown(staff))
            })
        });
        if leaves_out { Staves::Playing } else { Staves::AsRecorded }
    }
}

fn has_music(score: &Score, bars: BarSpan, staff: StaffId) -> bool {
    bars.iter().filter_map(|bar| score.cell(bar, staff)).any(|cell| !cell.is_silent())
}
