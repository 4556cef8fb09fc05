//! Players' parts written as files and read again: the music of each player's line, and pages that begin where they
//! were proposed.

use rastrum::casting_off::{self, House};
use rastrum::check::{PartChecked, PartsOptions, Unwatched, parts};
use rastrum::limits::Limits;
use rastrum::metrics::Metrics;
use rastrum::place::BarIdx;
use rastrum::read::{Input, Reading, read};
use rastrum::write_breaks::begins;
use rastrum::write_parts::{WantedPart, write_parts};

use super::figure::{Figure, Row};
use super::folder::Folder;
use super::same_line::difference;

/// Of the parts of all files: music identical; pages as proposed.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let (mut music, mut pages) = (Vec::new(), Vec::new());
    for (truth, _) in folder.works() {
        let bytes = std::fs::read(folder.path.join(&truth.file)).unwrap_or_default();
        let counted = count(&bytes).unwrap_or_default();
        music.push(Row::new(&truth.file, counted.same_music, counted.parts));
        pages.push(Row::new(&truth.file, counted.same_pages, counted.parts));
    }
    vec![
        Figure::new("written parts: music identical", "parts", music),
        Figure::new("written parts: pages as proposed", "parts", pages),
    ]
}

#[derive(Default)]
struct Counted {
    parts: u64,
    same_music: u64,
    same_pages: u64,
}

/// Of the parts of one file; `None` where they cannot be drawn or written.
fn count(bytes: &[u8]) -> Option<Counted> {
    let limits = Limits::default();
    let input = [Input { name: "score", bytes }];
    let checked = parts(&input, &PartsOptions::default(), &mut Unwatched).ok()?;
    let wanted: Vec<WantedPart<'_>> = checked.parts.iter().map(WantedPart::of).collect();
    let written = write_parts(&input, &checked.score, &wanted, &limits).ok()?;
    let mut counted = Counted { parts: checked.parts.len() as u64, ..Counted::default() };
    for (part, written) in checked.parts.iter().zip(written) {
        let file = written.files.into_iter().next().flatten();
        let copy = file.and_then(|bytes| read(&[Input { name: "part", bytes: &bytes }], &limits).ok());
        let Some(copy) = copy else { continue };
        counted.same_music += u64::from(difference(&part.player, BarIdx(0), &copy.score).is_none());
        counted.same_pages += u64::from(is_as_proposed(part, &copy));
    }
    Some(counted)
}

fn is_as_proposed(part: &PartChecked, copy: &Reading) -> bool {
    let pages = casting_off::pages(&copy.score, &Metrics::of(&copy.score), &copy.record, &House::default());
    begins(&part.player.music, &part.proposed.pages.layout) == begins(&copy.score, &pages)
}
