//! Which files are the score and which are parts of it, and whose each part is.

use std::collections::BTreeMap;

use super::SetAside;
use crate::check::CheckError;
use crate::layout::Record;
use crate::limits::Limits;
use crate::place::BarSpan;
use crate::players::Player;
use crate::read::{self, Input, SourceInfo};
use crate::score::{Cell, EventKind, Score};

/// The inputs, told apart by how many parts they list.
pub(in crate::check) struct Sorted<'a> {
    pub score: Vec<Input<'a>>,
    /// Places of the score's files among the inputs.
    pub score_at: Vec<usize>,
    pub parts: Vec<Input<'a>>,
}

/// A file that lists fewer parts than this share of the first one's is a player's part.
const SHARE_OF_A_SCORE: usize = 3;

/// The first file is the score.
pub(in crate::check) fn sort<'a>(inputs: &[Input<'a>], limits: &Limits) -> Sorted<'a> {
    let listed = listed(inputs, limits);
    let most = listed.first().copied().unwrap_or_default();
    sorted(inputs, &listed, most)
}

/// The files that list most parts are the score, wherever they stand.
pub(in crate::check) fn sort_any<'a>(inputs: &[Input<'a>], limits: &Limits) -> Sorted<'a> {
    let listed = listed(inputs, limits);
    let most = listed.iter().copied().max().unwrap_or_default();
    let mut sorted = sorted(inputs, &listed, most);
    // The first is the score unless there is a larger one.
    if let Some(first) =
        inputs.first().filter(|_| inputs.len() > 1 && listed.first().is_some_and(|own| is_part(*own, most)) && most > 1)
    {
        sorted.score.remove(0);
        sorted.score_at.remove(0);
        sorted.parts.insert(0, *first);
    }
    sorted
}

/// What cannot be opened is left with the score or the parts, whichever reads it says why.
fn listed(inputs: &[Input<'_>], limits: &Limits) -> Vec<usize> {
    inputs.iter().map(|input| read::parts_listed(0, *input, limits).unwrap_or(0)).collect()
}

fn is_part(parts: usize, most: usize) -> bool {
    parts * SHARE_OF_A_SCORE < most.max(SHARE_OF_A_SCORE + 1)
}

fn sorted<'a>(inputs: &[Input<'a>], listed: &[usize], most: usize) -> Sorted<'a> {
    let mut sorted = Sorted { score: Vec::new(), score_at: Vec::new(), parts: Vec::new() };
    for (at, (input, parts)) in inputs.iter().zip(listed).enumerate() {
        if at > 0 && is_part(*parts, most) {
            sorted.parts.push(*input);
        } else {
            sorted.score.push(*input);
            sorted.score_at.push(at);
        }
    }
    sorted
}

/// The files of one player, read together.
pub(in crate::check) struct PartFiles {
    /// Names of the files, in order of movements.
    pub names: Vec<String>,
    pub score: Score,
    pub record: Record,
}

/// The files that are parts of this score, by the index of the player.
pub(in crate::check) struct Matched {
    pub files: BTreeMap<usize, PartFiles>,
    pub sources: Vec<SourceInfo>,
    pub set_aside: Vec<SetAside>,
}

/// Of the bars that either plays, so many must agree for a file to be a player's part.
const AGREES: f64 = 0.5;

/// Finds the player of each file and puts the movements of one player together.
pub(in crate::check) fn matched(parts: &[Input<'_>], full: &Score, players: &[Player], limits: &Limits) -> Matched {
    let mut found: BTreeMap<usize, Vec<(BarSpan, Input<'_>)>> = BTreeMap::new();
    let mut matched = Matched { files: BTreeMap::new(), sources: Vec::new(), set_aside: Vec::new() };
    for input in parts {
        let set_aside = |why: String| SetAside { name: input.name.to_owned(), why };
        match read::read(&[*input], limits) {
            Err(errors) => {
                matched.set_aside.extend(errors.into_iter().map(|error| SetAside::of(&CheckError::Read(error))))
            }
            Ok(reading) => match whose(&reading.score, full, players) {
                None => matched.set_aside.push(set_aside("this is no part of the score".to_owned())),
                Some((player, bars)) => {
                    let own = found.entry(player).or_default();
                    let other = own.iter().find(|(taken, _)| overlap(*taken, bars)).map(|(_, other)| other.name);
                    match other {
                        Some(other) => matched.set_aside.push(set_aside(format!("the same part as {other}"))),
                        None => own.push((bars, *input)),
                    }
                }
            },
        }
    }
    for (player, mut files) in found {
        files.sort_by_key(|(bars, _)| *bars);
        let inputs: Vec<Input<'_>> = files.iter().map(|(_, input)| *input).collect();
        let Ok(reading) = read::read(&inputs, limits) else { continue };
        matched.sources.extend(reading.sources);
        let names = inputs.iter().map(|input| input.name.to_owned()).collect();
        matched.files.insert(player, PartFiles { names, score: reading.score, record: reading.record });
    }
    matched
}

fn overlap(one: BarSpan, other: BarSpan) -> bool {
    one.first <= other.last && other.first <= one.last
}

/// The player whose line a file agrees with best, and the bars of the full score that it holds. Among equals the name
/// decides, then the order of the score.
fn whose(part: &Score, full: &Score, players: &[Player]) -> Option<(usize, BarSpan)> {
    let bars = part.bars.len() as u32;
    let movements = full.movements.iter().map(|movement| movement.bars);
    let spans = full.all_bars().into_iter().chain(movements).filter(|span| span.count() == bars);
    let name = part.parts.first().map_or("", |part| part.name.as_str());
    let mut best: Option<(f64, bool, usize, BarSpan)> = None;
    for span in spans {
        for (at, player) in players.iter().enumerate() {
            let Some(agrees) = agreement(part, &player.music, span) else { continue };
            let named = player.name.eq_ignore_ascii_case(name.trim());
            if best.is_none_or(|(most, by_name, ..)| (agrees, named) > (most, by_name)) {
                best = Some((agrees, named, at, span));
            }
        }
    }
    if best.is_none() {
        return tacet(part, full, players, name);
    }
    best.filter(|(agrees, named, ..)| *agrees >= AGREES || *named && *agrees > 0.0).map(|(_, _, at, span)| (at, span))
}

/// A file without a note is the part of a player of that name who has none there either.
fn tacet(part: &Score, full: &Score, players: &[Player], name: &str) -> Option<(usize, BarSpan)> {
    let bars = part.bars.len() as u32;
    let movements = full.movements.iter().map(|movement| movement.bars);
    let span = full.all_bars().into_iter().chain(movements).find(|span| span.count() == bars)?;
    let at = players.iter().position(|player| player.name.eq_ignore_ascii_case(name.trim()))?;
    let silent = agreement(part, &players.get(at)?.music, span).is_none();
    silent.then_some((at, span))
}

/// Share of the bars that agree in how many notes begin, of all that either plays; `None` where neither plays.
fn agreement(part: &Score, line: &Score, span: BarSpan) -> Option<f64> {
    let (mut same, mut either) = (0_u32, 0_u32);
    for (at, bar) in (0..).zip(span.iter()) {
        let own = notes(part, at);
        let theirs = notes(line, bar.at());
        if own + theirs > 0 {
            either += 1;
            same += u32::from(own == theirs);
        }
    }
    (either > 0).then(|| f64::from(same) / f64::from(either))
}

fn notes(score: &Score, bar: usize) -> usize {
    let staves = score.staves.len();
    let cells = score.cells.get(bar * staves..(bar + 1) * staves).unwrap_or_default();
    cells.iter().map(in_cell).sum()
}

fn in_cell(cell: &Cell) -> usize {
    let notes = |kind: &EventKind| if let EventKind::Chord(notes) = kind { notes.len() } else { 0 };
    cell.events.iter().filter(|event| !event.cue).map(|event| notes(&event.kind)).sum()
}
