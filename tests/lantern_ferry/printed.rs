//! Some pages of the first movement as they were engraved and printed, with known faults (README.md, "The printed
//! pages"): six of the score, then the part of the first violins.

mod bars;
mod bows;
mod edges;
mod faces;
mod file;
mod fine;
mod heads;
pub mod leaf;
mod line;
mod over;
mod paint;
mod rests;
mod sheet;
mod signs;
mod stems;
mod system;
mod under;

use rastrum::check::{Options, PartsOptions, Unwatched, check, parts};
use rastrum::layout::{Layout, Page};
use rastrum::read::Input;
use rastrum::score::Score;
use rastrum::units::Mm;

use faces::Faces;
use leaf::{LEAVES, Leaf, PLAIN};

/// Whose part is printed after the score.
const PLAYER: &str = "Violins I";
const PART_PAPER: &str = "9 x 12 in";
/// Two read from one stand.
const PART_STAFF: Mm = Mm(8.0);

/// Pages that are to be printed, and the music on them.
pub struct Printed {
    score: Score,
    layout: Layout,
    part: Score,
    part_layout: Layout,
}

impl Printed {
    /// Reads the pages of the movement and has those of the part proposed.
    pub fn of(document: &str) -> Result<Printed, String> {
        let inputs = [Input { name: "lantern-ferry-1", bytes: document.as_bytes() }];
        let told = |errors| format!("{errors:?}");
        let checked = check(&inputs, &Options::default(), &mut Unwatched).map_err(told)?;
        let options = PartsOptions {
            only: vec![PLAYER.to_owned()],
            paper: Some(PART_PAPER.to_owned()),
            staff_height: Some(PART_STAFF),
            ..PartsOptions::default()
        };
        let drawn = parts(&inputs, &options, &mut Unwatched).map_err(told)?;
        let part = drawn.parts.into_iter().next().ok_or("no such player")?;
        Ok(Printed {
            score: checked.score,
            layout: checked.layout,
            part: part.player.music,
            part_layout: part.proposed.pages.layout,
        })
    }

    /// The leaves in order, each with the page it shows and the music on it.
    pub fn leaves(&self) -> Vec<(Leaf, &Page, &Score)> {
        let by_label = |label: &str| self.layout.pages.iter().find(|page| page.label == label);
        let of_score = LEAVES.iter().filter_map(|leaf| Some((*leaf, by_label(leaf.label)?, &self.score)));
        let of_part = self.part_layout.pages.iter().map(|page| (PLAIN, page, &self.part));
        of_score.chain(of_part).collect()
    }

    /// The file; the same bytes each time.
    pub fn pdf(&self) -> Result<Vec<u8>, String> {
        let mut faces = Faces::load()?;
        let mut sheets = Vec::new();
        for (leaf, page, score) in self.leaves() {
            sheets.push(sheet::draw(&mut faces, leaf, page, score)?);
        }
        file::assemble(sheets, &faces)
    }
}
