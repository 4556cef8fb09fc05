//! Parts written as files and read again: the music of each player's line.

use rastrum::layout::Layout;
use rastrum::limits::Limits;
use rastrum::place::{BarIdx, PartId};
use rastrum::players::Player;
use rastrum::read::{Input, read};
use rastrum::score::Score;
use rastrum::write_parts::{WantedPart, WrittenPart, write_parts};

use super::figure::{Figure, Row};
use super::folder::Folder;
use super::same_line::{difference, whole_part};

/// Of the parts of all files: music identical.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let rows = folder.works().map(|(truth, work)| {
        let score = &work.reading.score;
        let players: Vec<Player> = (0..score.parts.len()).map(|part| whole_part(score, PartId(part as u16))).collect();
        let same = std::fs::read(folder.path.join(&truth.file)).map_or(0, |bytes| identical(&bytes, score, &players));
        Row::new(&truth.file, same, players.len() as u64)
    });
    vec![Figure::new("written parts: music identical", "parts", rows.collect())]
}

/// How many parts of a file come back as they were.
fn identical(bytes: &[u8], score: &Score, players: &[Player]) -> u64 {
    let pages = Layout::default();
    let wanted: Vec<WantedPart<'_>> =
        players.iter().map(|player| WantedPart { player, pages: &pages, blocks: &[] }).collect();
    let limits = Limits::default();
    let Ok(written) = write_parts(&[Input { name: "score", bytes }], score, &wanted, &limits) else { return 0 };
    let is_same = |(player, part): (&Player, WrittenPart)| {
        let file = part.files.into_iter().next().flatten();
        let copy = file.and_then(|bytes| read(&[Input { name: "part", bytes: &bytes }], &limits).ok());
        u64::from(copy.is_some_and(|copy| difference(player, BarIdx(0), &copy.score).is_none()))
    };
    players.iter().zip(written).map(is_same).sum()
}
