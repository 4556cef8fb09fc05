//! Two parts of the first movement's first draft as they lie on the stands: filled page after page, with larger staves
//! on smaller paper than they need, so that both turn where no hand is free (README.md says where).

use rastrum::check::{PartsOptions, Unwatched, parts};
use rastrum::limits::Limits;
use rastrum::read::Input;
use rastrum::units::Mm;
use rastrum::write_parts::{WantedPart, write_parts};

use super::edit::Bars;

const PAPER: &str = "9.5 x 12.5 in";

struct Made {
    name: &'static str,
    staves: Mm,
    /// The number that is printed on its first page: an even one stands on the left.
    begins_on: u32,
}

const MADE: [Made; 2] = [
    // Behind a title page.
    Made { name: "Harp", staves: Mm(9.0), begins_on: 2 },
    Made { name: "Violins II", staves: Mm(9.5), begins_on: 1 },
];

/// Name and document of each.
pub fn documents(score: &str) -> Result<Vec<(String, String)>, String> {
    MADE.iter().map(|made| Ok((made.name.to_owned(), document(score, made)?))).collect()
}

fn document(score: &str, made: &Made) -> Result<String, String> {
    let inputs = [Input { name: "lantern-ferry-1", bytes: score.as_bytes() }];
    let options = PartsOptions {
        only: vec![made.name.to_owned()],
        paper: Some(PAPER.to_owned()),
        staff_height: Some(made.staves),
        ..PartsOptions::default()
    };
    let checked = parts(&inputs, &options, &mut Unwatched).map_err(|errors| format!("{errors:?}"))?;
    let [part] = checked.parts.as_slice() else { return Err(format!("not one part is called {}", made.name)) };
    let pages = &part.filled.pages;
    let wanted = WantedPart { player: &part.player, pages: &pages.layout, blocks: &pages.blocks };
    let written =
        write_parts(&inputs, &checked.score, &[wanted], &Limits::default()).map_err(|errors| format!("{errors:?}"))?;
    let bytes = written.into_iter().flat_map(|part| part.files).flatten().next().ok_or("the part has no staves")?;
    let text = String::from_utf8(bytes).map_err(|error| error.to_string())?;
    let mut bars = Bars::of(&text);
    bars.number_pages_from(made.begins_on);
    Ok(bars.text())
}
