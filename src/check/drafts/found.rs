//! Findings of score and parts in both drafts.

use super::Draft;
use super::readers::{PlayerPair, Reader, part};
use crate::check::PartChecked;
use crate::compare::{self, Found, FoundChange, Matched, Music};
use crate::rules::{Finding, Weight};

/// What became of every finding, and whose document it stands in, the heaviest first.
pub(super) fn findings(
    old: &Draft,
    new: &Draft,
    music: &Music,
    matched: &Matched,
    players: &[PlayerPair],
) -> Vec<(Reader, FoundChange)> {
    let mut all = Vec::new();
    let name = |score: &crate::score::Score, id: Option<crate::place::PartId>| {
        id.and_then(|id| score.parts.get(id.at())).map(|part| part.name.clone())
    };
    let names: Vec<(String, String)> = music
        .parts
        .iter()
        .filter_map(|pair| Some((name(&old.checked.score, pair.old)?, name(&new.checked.score, pair.new)?)))
        .collect();
    let renamed = |was: &str| names.iter().find(|(own, _)| own == was).map_or(was, |(_, is)| is.as_str()).to_owned();
    let (one, other) = (of_score(old), of_score(new));
    let changes = compare::found(&one.found(old), &other.found(new), matched, &renamed);
    all.extend(changes.into_iter().map(|change| (Reader::Conductor, change)));
    for (at, player) in players.iter().enumerate() {
        let Some((one, other)) = part(old, player.old).zip(part(new, player.new)) else { continue };
        let (ours, theirs) = (of_part(one), of_part(other));
        // A part has its own name on all its staves.
        let changes = compare::found(&ours.in_part(one), &theirs.in_part(other), matched, &|_| String::new());
        all.extend(changes.into_iter().map(|change| (Reader::Player(at), change)));
    }
    all.sort_by_key(|(reader, change)| (change.fate, std::cmp::Reverse(change.weight), *reader));
    all
}

/// Findings of one document.
struct Own<'a> {
    findings: &'a [Finding],
    accepted: Vec<&'a Finding>,
}

fn of_score(draft: &Draft) -> Own<'_> {
    let accepted = draft.checked.accepted.iter().map(|(finding, _)| finding).collect();
    Own { findings: &draft.checked.findings, accepted }
}

fn of_part(part: &PartChecked) -> Own<'_> {
    Own { findings: &part.findings, accepted: part.accepted.iter().map(|(finding, _)| finding).collect() }
}

impl<'a> Own<'a> {
    fn found(&'a self, draft: &'a Draft) -> Found<'a> {
        Found {
            score: &draft.checked.score,
            layout: &draft.checked.layout,
            findings: self.findings,
            accepted: &self.accepted,
        }
    }

    fn in_part(&'a self, part: &'a PartChecked) -> Found<'a> {
        Found { score: &part.player.music, layout: part.layout(), findings: self.findings, accepted: &self.accepted }
    }
}

/// Whether the new draft has a fault of this weight or more that the old one had not.
#[must_use]
pub(super) fn is_worse(findings: &[(Reader, FoundChange)], weight: Weight) -> bool {
    let new = |change: &FoundChange| change.fate == compare::FoundFate::New && !change.accepted;
    findings.iter().any(|(_, change)| new(change) && change.weight >= weight)
}
