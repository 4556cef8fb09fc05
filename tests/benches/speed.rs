//! How fast the program is and how much memory it takes, beside a bare parse of the same files on the same machine.
//!
//! `cargo bench --bench speed -- FOLDER` takes scores from `FOLDER/orchestra/*.mxl` and prints one line for each figure:
//! what was measured, against what, and the goal. It fails when a goal is missed.

use std::path::PathBuf;
use std::process::ExitCode;

#[path = "../examples/bare_parse.rs"]
mod bare_parse;
#[path = "speed/drafts.rs"]
mod drafts;
#[path = "speed/figure.rs"]
mod figure;
#[path = "speed/growth.rs"]
mod growth;
#[path = "speed/memory.rs"]
mod memory;
#[path = "speed/pages.rs"]
mod pages;
#[path = "speed/parts.rs"]
mod parts;
#[path = "speed/printed.rs"]
mod printed;
#[path = "speed/program.rs"]
mod program;
#[path = "speed/proof.rs"]
mod proof;
#[path = "speed/ratios.rs"]
mod ratios;
#[path = "speed/sample.rs"]
mod sample;
#[path = "speed/work_folder.rs"]
mod work_folder;

use figure::{Figure, Outcome};
use sample::Score;
use work_folder::WorkFolder;

/// Measures the scores, smallest first.
type Measure = fn(&[Score], &WorkFolder) -> Outcome<Vec<Figure>>;

/// In the order in which they are printed.
const MEASURES: &[Measure] = &[
    ratios::figures,
    pages::figures,
    parts::figures,
    proof::figures,
    drafts::figures,
    printed::figures,
    memory::figures,
    growth::figures,
];

/// As the last argument, after a file: be the bare parse, not the judge of it.
const BARE: &str = "--bare-parse";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let run = match arguments.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        [_, BARE] => bare_parse::main().map(|()| true),
        [folder, "--bench"] => measured(folder.into()),
        // Run as a test, without optimisation: the figures would mean nothing.
        [] => Ok(true),
        _ => Err("usage: cargo bench --bench speed -- FOLDER".into()),
    };
    match run {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("error: {error}");
            ExitCode::from(2)
        }
    }
}

/// Prints every figure; whether all goals are reached. Where one is missed, its kind is measured once more: other work on the
/// machine may have been in the way, and what is slow is slow again.
fn measured(folder: PathBuf) -> Outcome<bool> {
    let scores = sample::of(&folder.join("orchestra"))?;
    let work = WorkFolder::new()?;
    let mut reached = true;
    for measure in MEASURES {
        let mut missed = printed(measure(&scores, &work)?);
        if !missed.is_empty() {
            println!("measured again:");
            let again = printed(measure(&scores, &work)?);
            missed.retain(|name| again.contains(name));
        }
        reached &= missed.is_empty();
    }
    Ok(reached)
}

/// Prints them; the names of those that miss their goals.
fn printed(figures: Vec<Figure>) -> Vec<String> {
    figures.iter().for_each(|figure| println!("{figure}"));
    figures.into_iter().filter(|figure| !figure.reached()).map(|figure| figure.name).collect()
}
