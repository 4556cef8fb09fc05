//! Each player's files held against the player's line.

use std::collections::BTreeMap;

use super::lines::Lines;
use super::matched::{Own, Part};
use super::sheets::Sheets;
use super::{Against, PartFile, ProofedPart, Verdict};
use crate::accepted::differences::{self, Sorted};
use crate::place::BarSpan;
use crate::players::Player;
use crate::proof::{self, Line};
use crate::score::{Cell, Score};

/// A player's files, compared; their pages are not looked at yet.
pub(super) struct Held {
    player: Player,
    files: Vec<PartFile>,
    /// Places of the files among the inputs that are parts.
    inputs: Vec<usize>,
}

/// Every player that is expected to have a part, in score order.
pub(super) fn held(
    score: &Score,
    lines: &Lines,
    mut matched: BTreeMap<usize, Vec<Own>>,
    read: &[Part],
    against: &Against,
) -> Vec<Held> {
    let mut held = Vec::new();
    for (at, line) in lines.all.iter().enumerate() {
        let own = matched.remove(&at).unwrap_or_default();
        if !line.is_wanted {
            continue;
        }
        // A section's part is either one, or one for each of its staves.
        if own.is_empty() && (line.is_one_of_several || lines.has_own_staves(at, &matched)) {
            continue;
        }
        let player = &line.player;
        let files = own.into_iter().filter_map(|own| Some((own.file, file(score, player, own, read, against)?)));
        let (places, files): (Vec<usize>, Vec<PartFile>) = files.unzip();
        let inputs = places.iter().filter_map(|place| read.get(*place)).map(|part| part.input).collect();
        held.push(Held { player: player.clone(), files, inputs });
    }
    held
}

/// One file held against its bars of the line.
fn file(score: &Score, player: &Player, own: Own, read: &[Part], against: &Against) -> Option<PartFile> {
    let part = read.get(own.file)?;
    let mut proof = proof::proof(&Line { score, player, bars: own.bars }, &part.score);
    let found = std::mem::take(&mut proof.differences);
    let Sorted { kept, accepted } = differences::sort(found, &player.name, score, &against.may_stay);
    proof.differences = kept;
    let (name, music) = (part.name.clone(), part.score.clone());
    Some(PartFile { name, bars: own.bars, music, proof, accepted, first_number: 0, doubt: own.doubt })
}

impl Held {
    /// With what is to be said of the pages, and in a word of all.
    pub fn with_sheet(self, score: &Score, sheets: &Sheets<'_>) -> ProofedPart {
        let Held { player, files, inputs } = self;
        let not_there = not_there(score, &player, &files);
        let verdict = verdict(&files, &not_there);
        let (sheet, sheet_not_read) = match sheets.judge(&player, &files, &inputs) {
            None => (None, None),
            Some(Ok(sheet)) => (Some(sheet), None),
            Some(Err(aside)) => (None, Some(aside.why)),
        };
        ProofedPart { player, verdict, files, not_there, sheet, sheet_not_read }
    }
}

/// Movements in which the player has notes and no file.
fn not_there(score: &Score, player: &Player, files: &[PartFile]) -> Vec<BarSpan> {
    let plays = |bars: BarSpan| {
        let staves = player.music.staves.len();
        let cells = player.music.cells.get(bars.first.at() * staves..(bars.last.at() + 1) * staves);
        cells.unwrap_or_default().iter().any(Cell::sounds)
    };
    let movements = score.movements.iter().map(|movement| movement.bars);
    movements.filter(|bars| plays(*bars) && !files.iter().any(|file| file.bars.contains(bars.first))).collect()
}

/// That of the worst file.
fn verdict(files: &[PartFile], not_there: &[BarSpan]) -> Verdict {
    let missing = if not_there.is_empty() { Verdict::Tacet } else { Verdict::NotThere };
    files.iter().map(PartFile::verdict).max().unwrap_or(missing)
}
