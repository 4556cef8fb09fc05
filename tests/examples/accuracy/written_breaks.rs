//! Copies with the proposed breaks, read again: the same music, and pages that begin where they were proposed.

use rastrum::casting_off::{self, House};
use rastrum::check::{Checked, Options, Unwatched, check};
use rastrum::limits::Limits;
use rastrum::metrics::Metrics;
use rastrum::read::{Input, Reading, read};
use rastrum::write_breaks::{Packing, begins, write_breaks};

use super::figure::{Figure, Row};
use super::folder::Folder;

/// Of all files: music identical; pages as proposed.
pub fn figures(folder: &Folder) -> Vec<Figure> {
    let (mut music, mut pages) = (Vec::new(), Vec::new());
    for (truth, _) in folder.works() {
        let read_back = std::fs::read(folder.path.join(&truth.file)).ok().and_then(|bytes| copied(&bytes));
        let same_music = read_back.as_ref().is_some_and(|(checked, copy)| checked.score == copy.score);
        let as_proposed = read_back.as_ref().is_some_and(|(checked, copy)| is_as_proposed(checked, copy));
        music.push(Row::new(&truth.file, u64::from(same_music), 1));
        pages.push(Row::new(&truth.file, u64::from(as_proposed), 1));
    }
    vec![
        Figure::new("written breaks: music identical", "files", music),
        Figure::new("written breaks: pages as proposed", "files", pages),
    ]
}

/// What was found, and its copy with the proposed breaks.
fn copied(bytes: &[u8]) -> Option<(Checked, Reading)> {
    let input = [Input { name: "score", bytes }];
    let checked = check(&input, &Options::default(), &mut Unwatched).ok()?;
    let pages = &checked.proposal.as_ref()?.layout;
    let limits = Limits::default();
    let copy = write_breaks(&input, &checked.score, pages, Packing::Compressed, &limits).ok()?.pop()?;
    let reading = read(&[Input { name: "score", bytes: &copy }], &limits).ok()?;
    Some((checked, reading))
}

fn is_as_proposed(checked: &Checked, copy: &Reading) -> bool {
    let pages = casting_off::pages(&copy.score, &Metrics::of(&copy.score), &copy.record, &House::default());
    let proposed = checked.proposal.as_ref().map(|proposal| begins(&checked.score, &proposal.layout));
    proposed == Some(begins(&copy.score, &pages))
}
