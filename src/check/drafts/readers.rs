//! Who reads the drafts: the conductor and the players, which of them is whom in the other draft, and their turns.

use std::collections::BTreeSet;

use super::Draft;
use crate::check::PartChecked;
use crate::compare::{self, Matched, OwnLine, TurnAt, TurnChange, TurnFate};
use crate::layout::Layout;
use crate::place::{BarIdx, PageIdx};
use crate::players::turning::TurnClass;
use crate::rules::Finding;
use crate::survey::Turn;

/// Whose document it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reader {
    /// The score.
    Conductor,
    /// Among [`Compared::players`](super::Compared::players).
    Player(usize),
}

/// A player of both drafts, or of one; places among the parts of each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlayerPair {
    /// As the new draft heads the part; of those left out, as the old one did.
    pub name: String,
    /// Where it was another.
    pub old_name: Option<String>,
    pub old: Option<usize>,
    pub new: Option<usize>,
}

/// What became of one reader's turns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReaderTurns {
    pub reader: Reader,
    /// How many turns there were, and are.
    pub old: usize,
    pub new: usize,
    pub changes: Vec<TurnChange>,
}

/// Which player is which.
pub(super) fn players(old: &Draft, new: &Draft, lines: &Lines<'_>) -> Vec<PlayerPair> {
    let matched = compare::players(&lines.old, &lines.new);
    let pair = |(was, is): (Option<usize>, Option<usize>)| {
        let name = |draft: &Draft, at: Option<usize>| part(draft, at).map(|part| part.player.name.clone());
        let (was_name, is_name) = (name(old, was), name(new, is));
        let name = is_name.or_else(|| was_name.clone()).unwrap_or_default();
        PlayerPair { old_name: was_name.filter(|was| *was != name), name, old: was, new: is }
    };
    matched.into_iter().map(pair).collect()
}

/// The lines of all players of both drafts.
pub(super) struct Lines<'a> {
    pub old: Vec<OwnLine<'a>>,
    pub new: Vec<OwnLine<'a>>,
}

impl<'a> Lines<'a> {
    pub fn of(old: &'a Draft, new: &'a Draft) -> Lines<'a> {
        let lines = |draft: &'a Draft| -> Vec<OwnLine<'a>> {
            let parts = draft.parts.iter().flat_map(|parts| &parts.parts);
            parts.map(|part| OwnLine::of(&part.player.music)).collect()
        };
        Lines { old: lines(old), new: lines(new) }
    }

    /// Those of one player, where both drafts have one.
    pub fn of_player(&self, pair: &PlayerPair) -> Option<(&OwnLine<'a>, &OwnLine<'a>)> {
        self.old.get(pair.old?).zip(self.new.get(pair.new?))
    }
}

pub(super) fn part(draft: &Draft, at: Option<usize>) -> Option<&PartChecked> {
    draft.parts.as_ref()?.parts.get(at?)
}

/// The turns on the pages that are judged.
fn turns_of(part: &PartChecked) -> &[Turn] {
    part.recorded.as_ref().map_or(part.proposed.turns.as_slice(), |own| own.turns.as_slice())
}

/// What became of everybody's bad turns; readers with none on either side are left out.
pub(super) fn turns(old: &Draft, new: &Draft, matched: &Matched, players: &[PlayerPair]) -> Vec<ReaderTurns> {
    let mut all = Vec::new();
    let mut add = |reader: Reader, one: &[TurnAt], other: &[TurnAt]| {
        let changes = compare::turns(one, other, matched);
        if !changes.is_empty() {
            all.push(ReaderTurns { reader, old: one.len(), new: other.len(), changes });
        }
    };
    add(Reader::Conductor, &of_conductor(old), &of_conductor(new));
    for (at, player) in players.iter().enumerate() {
        let Some((one, other)) = part(old, player.old).zip(part(new, player.new)) else { continue };
        add(Reader::Player(at), &of_player(one), &of_player(other));
    }
    all.sort_by_key(|own| (!own.changes.iter().any(|change| change.fate != TurnFate::StillBad), own.reader));
    all
}

fn of_player(part: &PartChecked) -> Vec<TurnAt> {
    let is_bad = |turn: &Turn| matches!(turn.point.class, Some(TurnClass::None | TurnClass::Tight));
    turns_of(part).iter().map(|turn| TurnAt { after: turn.point.after, is_bad: is_bad(turn) }).collect()
}

/// The rule that tells what the conductor meets just after a turn.
const UNEXPECTED: &str = "risky-conductor-turn";

fn of_conductor(draft: &Draft) -> Vec<TurnAt> {
    let checked = &draft.checked;
    let told = checked.findings.iter().chain(checked.accepted.iter().map(|(finding, _)| finding));
    let risky: BTreeSet<PageIdx> =
        told.filter(|finding| finding.rule == UNEXPECTED).flat_map(|finding| pages(finding, &checked.layout)).collect();
    let mut turns = Vec::new();
    for pair in checked.survey.openings.windows(2) {
        let [before, after] = pair else { continue };
        let Some(bars) = before.bars else { continue };
        let is_bad = after.pages.iter().any(|page| risky.contains(page));
        turns.push(TurnAt { after: bars.last, is_bad });
    }
    turns
}

/// The pages that a finding's bars stand on.
fn pages(finding: &Finding, layout: &Layout) -> Vec<PageIdx> {
    let page = |bar: BarIdx| layout.find(bar).map(|(page, ..)| page);
    finding.places.iter().filter_map(|place| place.page.or_else(|| page(place.bars?.first))).collect()
}
