//! Writes the demonstration score "Lantern Ferry": an invented piece for orchestra whose faults and good pages are
//! known (README.md beside this file).
//!
//! `cargo run --example lantern_ferry -- OUT_FOLDER [--xml]`: three `.mxl` files, or plain `.musicxml` ones, and a
//! second draft of the first, `-1-second.mxl`; the parts of the third in a folder `parts`, two of the first in a folder
//! `first-parts`; some pages of the first as they were printed, `-1-printed.pdf`.
//! `cargo run --example lantern_ferry -- --facts`: the tables of README.md.

#[cfg(test)]
mod checks;
mod container;
mod emit;
mod extents;
mod facts;
mod layout;
mod music;
mod notation;
mod orchestra;
mod paper;
mod parts;
mod phrase;
mod pitch;
mod plan;
mod printed;
mod score;
mod seconds;
mod spacing;

use std::error::Error;
use std::path::Path;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let (options, folders): (Vec<&String>, Vec<&String>) = arguments.iter().partition(|one| one.starts_with("--"));
    if options.iter().any(|option| *option == "--facts") {
        print!("{}\n{}", facts::tables(), facts::second_draft_table());
        return Ok(());
    }
    let [folder] = folders.as_slice() else { return Err("one folder to write into, please".into()) };
    let plain = options.iter().any(|option| *option == "--xml");
    for (number, document) in (1..).zip(documents().into_iter().chain([without_pages()])) {
        let suffix = if plain { "musicxml" } else { "mxl" };
        let path = Path::new(folder).join(format!("lantern-ferry-{number}.{suffix}"));
        let bytes = if plain { document.into_bytes() } else { container::compressed(&document)? };
        std::fs::write(path, bytes)?;
    }
    let second_draft = second_draft();
    let (suffix, bytes) =
        if plain { ("musicxml", second_draft.into_bytes()) } else { ("mxl", container::compressed(&second_draft)?) };
    std::fs::write(Path::new(folder).join(format!("lantern-ferry-1-second.{suffix}")), bytes)?;
    let [first, _] = documents().try_into().map_err(|_| "two movements are set")?;
    std::fs::write(Path::new(folder).join("lantern-ferry-1-printed.pdf"), printed::Printed::of(&first)?.pdf()?)?;
    write_parts(&Path::new(folder).join("parts"), parts::documents(&without_pages())?, plain)?;
    write_parts(&Path::new(folder).join("first-parts"), parts::first::documents(&first)?, plain)
}

fn write_parts(folder: &Path, parts: Vec<(String, String)>, plain: bool) -> Result<(), Box<dyn Error>> {
    std::fs::create_dir_all(folder)?;
    for (name, document) in parts {
        let (suffix, bytes) =
            if plain { ("musicxml", document.into_bytes()) } else { ("mxl", container::compressed(&document)?) };
        std::fs::write(folder.join(format!("{name}.{suffix}")), bytes)?;
    }
    Ok(())
}

/// The third movement, whose pages nobody has set yet.
fn without_pages() -> String {
    emit::document(&music::watch(), &[])
}

/// The first movement as it was written anew.
fn second_draft() -> String {
    let movement = music::second_draft();
    emit::document(&movement, &layout::lay_out(&movement))
}

/// The two movements that are set, as MusicXML.
fn documents() -> Vec<String> {
    music::movements().iter().map(|movement| emit::document(movement, &layout::lay_out(movement))).collect()
}
