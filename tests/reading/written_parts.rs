//! Parts of open scores, written as files of their own and read again.

use std::path::Path;

use rastrum::check::{PartsOptions, Unwatched, parts};
use rastrum::layout::Layout;
use rastrum::limits::Limits;
use rastrum::place::{BarIdx, BarSpan, PartId, StaffId};
use rastrum::players::blocks::{Block, BlockKind};
use rastrum::players::{Hands, Player};
use rastrum::read::{Input, read};
use rastrum::score::{Cell, EventKind, Part, Score};
use rastrum::write_parts::{WantedPart, write_parts};

use crate::open_scores::{data, scores};
use crate::same_line::difference;

/// Single bars, and silent ones gathered.
fn blocks(music: &Score) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    for bar in (0..music.bars.len() as u32).map(BarIdx) {
        let cells = &music.cells[bar.at() * music.staves.len()..(bar.at() + 1) * music.staves.len()];
        let is_silent = cells.iter().all(Cell::is_silent);
        match blocks.last_mut() {
            Some(Block { bars, kind: BlockKind::Rest { .. } }) if is_silent => bars.last = bar,
            _ => {
                let rest = BlockKind::Rest { divisible_after: Vec::new() };
                let kind = if is_silent { rest } else { BlockKind::Bar };
                blocks.push(Block { bars: BarSpan::one(bar), kind });
            }
        }
    }
    blocks
}

/// Half of what a part plays: the highest notes of the first voice of each bar, or all others.
fn half(player: &Player, upper: bool) -> Player {
    let mut half = Player { number: Some(if upper { 1 } else { 2 }), ..player.clone() };
    for cell in &mut half.music.cells {
        let first = cell.events.iter().map(|event| event.voice).min();
        cell.events.retain_mut(|event| {
            let EventKind::Chord(notes) = &mut event.kind else { return false };
            match (Some(event.voice) == first, upper) {
                (true, true) => {
                    notes.drain(..notes.len() - 1);
                    true
                }
                (true, false) => notes.pop().is_some() && !notes.is_empty(),
                (false, upper) => !upper,
            }
        });
    }
    half
}

/// Of all parts of a score, made by `line` of what the part has, how many come back; differences are said.
fn read_back(path: &Path, kind: &str, line: impl Fn(&Player) -> Player) -> (usize, usize) {
    let bytes = std::fs::read(path).unwrap();
    let limits = Limits::default();
    let input = Input { name: "score", bytes: &bytes };
    let score = read(&[input], &limits).unwrap().score;
    let whole = (0..score.parts.len()).map(|part| whole_part(&score, PartId(part as u16)));
    let players: Vec<Player> = whole.map(|player| line(&player)).collect();
    let pages = Layout::default();
    let blocks: Vec<Vec<Block>> = players.iter().map(|player| blocks(&player.music)).collect();
    let wanted: Vec<WantedPart<'_>> =
        players.iter().zip(&blocks).map(|(player, blocks)| WantedPart { player, pages: &pages, blocks }).collect();
    let written = write_parts(&[input], &score, &wanted, &limits).unwrap();
    let mut same = 0;
    for (at, (player, part)) in players.iter().zip(&written).enumerate() {
        let bytes = part.files[0].as_deref().unwrap();
        keep(path, kind, at, bytes);
        let copy = match read(&[Input { name: "part", bytes }], &limits) {
            Ok(copy) => copy.score,
            Err(errors) => panic!("{}: {}: {errors:?}", path.display(), player.name),
        };
        match difference(player, BarIdx(0), &copy) {
            None => same += 1,
            Some(difference) => println!("{}: {} ({at}): {difference}", path.display(), player.name),
        }
    }
    (same, players.len())
}

/// For validators: leaves the part where RASTRUM_WRITTEN_PARTS names a folder.
fn keep(path: &Path, kind: &str, part: usize, bytes: &[u8]) {
    let Some(folder) = std::env::var_os("RASTRUM_WRITTEN_PARTS") else { return };
    let names = path.iter().rev().take(2).map(|name| name.to_string_lossy().into_owned());
    let name = names.collect::<Vec<_>>().join("-");
    std::fs::write(Path::new(&folder).join(format!("{kind}-{part}-{name}.musicxml")), bytes).unwrap();
}

/// The player of all that a part of the score has.
fn whole_part(score: &Score, part: PartId) -> Player {
    let staves: Vec<StaffId> = score.staves_of(part).collect();
    let mut music = score.clone();
    music.parts = vec![score.parts[part.at()].clone()];
    music.staves = staves.iter().map(|staff| score.staves[staff.at()]).collect();
    for staff in &mut music.staves {
        staff.part = PartId(0);
    }
    music.groups.clear();
    music.cells = (0..score.bars.len() as u32)
        .flat_map(|bar| staves.iter().filter_map(move |staff| score.cell(BarIdx(bar), *staff).cloned()))
        .collect();
    let Part { name, family, .. } = &score.parts[part.at()];
    Player {
        name: name.clone(),
        family: *family,
        hands: Hands::Unknown,
        number: None,
        staves,
        copies: 1,
        music,
        undecided: Vec::new(),
    }
}

#[test]
fn halves_of_all_parts_of_open_scores_come_back_as_they_were_cut() {
    let Some(folder) = data() else { return };
    // Every fourth: enough for each way that files are written.
    let all: Vec<_> = scores(&folder).into_iter().step_by(4).collect();
    for (kind, upper) in [("upper", true), ("lower", false)] {
        let cut = |player: &Player| half(player, upper);
        let (same, parts) =
            all.iter().map(|path| read_back(path, kind, cut)).fold((0, 0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
        println!("{same} of {parts} parts");
        assert_eq!(same, parts);
    }
}

#[test]
fn each_players_written_part_has_the_players_music() {
    let Some(folder) = data() else { return };
    let limits = Limits::default();
    let (mut same, mut all) = (0, 0);
    for path in scores(&folder) {
        let bytes = std::fs::read(&path).unwrap();
        let input = [Input { name: "score", bytes: &bytes }];
        let checked = parts(&input, &PartsOptions::default(), &mut Unwatched).unwrap();
        let wanted: Vec<WantedPart<'_>> = checked.parts.iter().map(WantedPart::of).collect();
        let written = write_parts(&input, &checked.score, &wanted, &limits).unwrap();
        for (part, written) in checked.parts.iter().zip(&written) {
            let bytes = written.files[0].as_deref().unwrap();
            let copy = read(&[Input { name: "part", bytes }], &limits).unwrap();
            all += 1;
            {
                let r = read(&[Input { name: "part", bytes }], &limits).unwrap();
                let pages = rastrum::casting_off::pages(
                    &r.score,
                    &rastrum::metrics::Metrics::of(&r.score),
                    &r.record,
                    &Default::default(),
                );
                let a = rastrum::write_breaks::begins(&part.player.music, &part.proposed.pages.layout);
                let b = rastrum::write_breaks::begins(&r.score, &pages);
                if let Some(at) = a.iter().zip(&b).position(|(a, b)| a != b) {
                    println!(
                        "{} {}: bar {at} of {}: {:?} {:?} blocks {:?}; kinds {:?}",
                        path.display(),
                        part.player.name,
                        a.len(),
                        a[at],
                        b[at],
                        part.blocks.iter().find(|b| b.bars.contains(BarIdx(at as u32))),
                        part.proposed.pages.layout.pages.iter().map(|p| (p.kind, p.systems.len())).collect::<Vec<_>>()
                    );
                }
            }
            match difference(&part.player, BarIdx(0), &copy.score) {
                None => same += 1,
                Some(difference) => println!("{}: {}: {difference}", path.display(), part.player.name),
            }
        }
    }
    assert_eq!(same, all);
}
