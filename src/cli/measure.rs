//! `rastrum measure`: how a score is set, as a reference layout.

use std::path::{Path, PathBuf};

use rastrum::check::Options;
use rastrum::engraved::{self, is_pdf};
use rastrum::limits::Limits;
use rastrum::metrics::Metrics;
use rastrum::reference::{self, Reference, Regenerate};

use super::args::MeasureArgs;
use super::exit::{Failure, Outcome, Trouble};
use super::files::{self, Output, Target};
use super::timings::Stopwatch;
use super::{check, terminal};

/// A reference layout has a few kilobytes; this is none.
const LARGEST: u64 = 1 << 20;

pub fn run(args: &MeasureArgs) -> Result<Outcome, Failure> {
    files::ready(&[Target { path: &args.output, may_replace: reference::is_ours }])?;
    let measured = measured(&args.scores, &args.source)?;
    let by = Regenerate { scores: args.scores.iter().map(|path| shown(path)).collect(), output: shown(&args.output) };
    let text = reference::write(&measured, &by);
    files::write(&[Output { path: &args.output, fill: &|out| out.write_all(text.as_bytes()) }])?;
    terminal::say(&format!("Written: {}\n", args.output.display()))
}

/// The reference layout that is meant: one that comes with rastrum, a file of one, or a score to measure.
pub fn find(name: &Path) -> Result<Reference, Failure> {
    let wrong = |error: reference::ReferenceError| {
        let hint = "rastrum measure SCORE -o NAME.toml writes one that reads";
        Failure::from(Trouble::new(error.to_string()).hint(hint))
    };
    if let Some(shipped) = name.to_str().and_then(reference::named) {
        return shipped.map_err(wrong);
    }
    if !name.exists() {
        let names: Vec<&str> = reference::names().collect();
        let hint =
            format!("name a score, engraved pages, a file that rastrum measure wrote, or one of {}", names.join(", "));
        return Err(Trouble::new(format!("--like {}: is not there", name.display())).hint(hint).into());
    }
    if name.extension().is_none_or(|ending| ending != "toml") {
        return measured(&[name.to_owned()], "");
    }
    let text = String::from_utf8(files::read(name, LARGEST)?)
        .map_err(|_| Trouble::new(format!("{}: is not text", name.display())).hint("save it as UTF-8"))?;
    reference::parse(&files::name(name), &text).map_err(wrong)
}

/// Measures engraved pages, or the pages that scores record.
fn measured(paths: &[PathBuf], source: &str) -> Result<Reference, Failure> {
    let contents = check::contents(paths, Limits::default().inflated_bytes)?;
    let engraved = contents.iter().filter(|(_, bytes)| is_pdf(bytes)).count();
    match contents.as_slice() {
        [(name, bytes)] if engraved == 1 => of_pages(name, bytes, source),
        _ if engraved == 0 => of_scores(paths, source),
        _ => {
            let hint = "measure one PDF at a time; scores that are several files are movements of one work";
            Err(Trouble::new("engraved pages are measured alone".to_owned()).hint(hint).into())
        }
    }
}

/// The title is the largest of the words outside the music, or else the file's name.
fn of_pages(name: &str, bytes: &[u8], source: &str) -> Result<Reference, Failure> {
    let pages = engraved::measure(bytes, &Limits::default())
        .map_err(|error| Trouble::new(format!("{name}: {error}")).hint(error.hint()))?;
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let title = engraved::title(&pages).unwrap_or_else(|| stem.to_owned());
    Ok(Reference::of_pages(&pages, &title, source))
}

fn of_scores(scores: &[PathBuf], source: &str) -> Result<Reference, Failure> {
    let checked = check::work(scores, &Options::default(), &mut Stopwatch::start())?;
    let spacing = Metrics::of(&checked.score).spacing;
    let measured = Reference::of(&checked.score, &checked.layout, &checked.survey, &spacing, source);
    if measured.is_empty() {
        let names: Vec<String> = scores.iter().map(|path| path.display().to_string()).collect();
        let hint = "export it with its layout: page size, staff height, breaks and distances";
        return Err(Trouble::new(format!("{}: records no pages to measure", names.join(", "))).hint(hint).into());
    }
    Ok(measured)
}

/// As the user gave it, for whoever repeats the command; without the folders of this machine.
fn shown(path: &Path) -> String {
    if path.is_absolute() { files::name(path) } else { path.display().to_string().replace('\\', "/") }
}
