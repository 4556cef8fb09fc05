//! Prints every figure that rastrum is measured by, with its numerator, its denominator and a row for each file.
//!
//! `cargo run --release --example accuracy -- FOLDER [--json OUT] [--write-errors PATH]` reads `FOLDER/recorded-truth.json`, the scores that
//! it names, and the other truth files beside it. Any folder of the same shape will do. `--write-errors` writes the
//! table of expected errors that ships with the program, instead of the figures.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[path = "accuracy/bar_widths.rs"]
mod bar_widths;
#[path = "accuracy/density.rs"]
mod density;
#[path = "accuracy/drafts.rs"]
mod drafts;
#[path = "accuracy/engraved.rs"]
mod engraved;
#[path = "accuracy/errors.rs"]
mod errors;
#[path = "accuracy/figure.rs"]
mod figure;
#[path = "accuracy/filled_pages.rs"]
mod filled_pages;
#[path = "accuracy/firing.rs"]
mod firing;
#[path = "accuracy/fit.rs"]
mod fit;
#[path = "accuracy/folder.rs"]
mod folder;
#[path = "accuracy/forecast.rs"]
mod forecast;
#[path = "accuracy/gaps.rs"]
mod gaps;
#[path = "accuracy/joined.rs"]
mod joined;
#[path = "accuracy/outlines.rs"]
mod outlines;
#[path = "accuracy/parts.rs"]
mod parts;
#[path = "accuracy/recorded.rs"]
mod recorded;
#[path = "accuracy/same_line.rs"]
mod same_line;
#[path = "accuracy/staff_tops.rs"]
mod staff_tops;
#[path = "accuracy/systems.rs"]
mod systems;
#[path = "accuracy/written_breaks.rs"]
mod written_breaks;
#[path = "accuracy/written_parts.rs"]
mod written_parts;

use figure::Figure;
use folder::Folder;

/// Measures a folder.
type Measure = fn(&Folder) -> Vec<Figure>;

/// All figures, in the order in which they are printed.
const MEASURES: &[Measure] = &[
    engraved::figures,
    joined::figures,
    recorded::figures,
    staff_tops::figures,
    gaps::figures,
    bar_widths::figures,
    systems::figures,
    filled_pages::figures,
    outlines::figures,
    density::figures,
    firing::figures,
    written_breaks::figures,
    parts::figures,
    written_parts::figures,
    drafts::figures,
];

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("error: {message}");
            ExitCode::from(2)
        }
    }
}

fn run() -> Result<(), String> {
    let Arguments { folder, json, errors } = arguments()?;
    let folder = Folder::open(folder)?;
    if let Some(path) = errors {
        return write(&path, &errors::table(&folder));
    }
    let figures: Vec<Figure> = MEASURES.iter().flat_map(|measure| measure(&folder)).collect();
    for figure in &figures {
        println!("{figure}");
    }
    match json {
        Some(path) => {
            let text = serde_json::to_string_pretty(&figures).map_err(|error| error.to_string())?;
            write(&path, &(text + "\n"))
        }
        None => Ok(()),
    }
}

fn write(path: &Path, text: &str) -> Result<(), String> {
    std::fs::write(path, text).map_err(|error| format!("{}: {error}", path.display()))
}

struct Arguments {
    folder: PathBuf,
    /// Where JSON is wanted.
    json: Option<PathBuf>,
    /// Where the table of expected errors is wanted.
    errors: Option<PathBuf>,
}

fn arguments() -> Result<Arguments, String> {
    let usage = "usage: accuracy FOLDER [--json OUT] [--write-errors PATH]";
    let (mut folder, mut json, mut errors) = (None, None, None);
    let mut arguments = std::env::args_os().skip(1);
    while let Some(argument) = arguments.next() {
        if argument == "--json" {
            json = Some(PathBuf::from(arguments.next().ok_or(usage)?));
        } else if argument == "--write-errors" {
            errors = Some(PathBuf::from(arguments.next().ok_or(usage)?));
        } else if folder.replace(PathBuf::from(argument)).is_some() {
            return Err(usage.to_owned());
        }
    }
    Ok(Arguments { folder: folder.ok_or(usage)?, json, errors })
}
