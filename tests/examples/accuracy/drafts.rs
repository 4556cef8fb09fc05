//! Second drafts made by a fixed seed, and what is told of them.
//!
//! Copies of the orchestral scores are edited in their text, and what was done is recorded: bars put in, taken out and
//! moved, notes changed, parts dropped, added, renamed, reordered and written for another transposition, pages cast off
//! anew. The record is the truth.

use std::io::Read;
use std::path::Path;

use rastrum::check::{self, DraftFiles, DraftsOptions, Unwatched};
use rastrum::compare;
use rastrum::limits::Limits;
use rastrum::read::{self, Input};
use rastrum::score::Score;

use super::figure::{Figure, Row};
use super::folder::Folder;

#[path = "drafts/content.rs"]
mod content;
#[path = "drafts/copy.rs"]
mod copy;
#[path = "drafts/edits.rs"]
mod edits;
#[path = "drafts/judge.rs"]
mod judge;
#[path = "drafts/seed.rs"]
mod seed;
#[path = "drafts/sheets.rs"]
mod sheets;
#[cfg(test)]
#[path = "drafts/tests.rs"]
mod tests;
#[path = "drafts/text.rs"]
mod text;
#[path = "drafts/truth.rs"]
mod truth;

use edits::KINDS;
use edits::seams::Seams;
use edits::state::States;
use judge::Judged;
use seed::Seed;
use sheets::Named;
use text::Cut;
use truth::Truth;

/// Copies with one edit, with three of different kinds, with all.
const SETS: [(&str, usize); 3] = [("one edit", 120), ("three edits", 60), ("all edits", 20)];
/// The parts of copies of the first sets are laid out for the reprint list: where everything changes, all is printed.
const WITH_SHEETS: usize = 2;

/// Names a folder that copies of which something else is told than was seeded are written to; what it is goes to the
/// error stream.
const LOOK_INTO: &str = "RASTRUM_DRAFTS";

/// A score to make copies of.
struct Original<'a> {
    file: &'a str,
    score: &'a Score,
    text: String,
}

/// What came of all copies, with a row for each set and kind.
#[derive(Default)]
struct Sums {
    copies: u64,
    cells: Rows,
    invented: Rows,
    matched: Rows,
    touched: Rows,
    untouched: Rows,
}

#[derive(Default)]
struct Rows(Vec<Row>);

impl Rows {
    fn add(&mut self, name: &str, numerator: u64, denominator: u64) {
        match self.0.iter_mut().find(|row| row.file == name) {
            Some(row) => {
                row.numerator += numerator;
                row.denominator += denominator;
            }
            None => self.0.push(Row::new(name, numerator, denominator)),
        }
    }
}

/// One copy.
struct Seeded<'a, 'b> {
    original: &'a Original<'b>,
    name: String,
    truth: Truth,
    text: String,
}

pub fn figures(folder: &Folder) -> Vec<Figure> {
    let originals = originals(folder);
    let cuts: Vec<(&Original, Cut)> = originals.iter().filter_map(|own| Some((own, Cut::of(&own.text)?))).collect();
    let known: Vec<(&Original, Cut, Seams, States)> = cuts
        .into_iter()
        .map(|(own, cut)| {
            let (seams, states) = (Seams::of(&cut), States::of(&cut));
            (own, cut, seams, states)
        })
        .collect();
    if known.is_empty() {
        return Vec::new();
    }
    let mut sums = Sums::default();
    for (set, (name, count)) in SETS.into_iter().enumerate() {
        for at in 0..count {
            // A score may have no place for an edit: then the next one is taken.
            let seeded = (0..known.len()).find_map(|skip| {
                let (original, cut, seams, states) = &known[(at + skip) % known.len()];
                let mut seed = Seed::new((set * 1000 + at) as u64);
                let kinds = kinds(set, at, &mut seed);
                let mut truth = Truth::of(cut);
                let made = kinds.iter().filter(|kind| edits::edit(**kind, cut, seams, &mut truth, &mut seed)).count();
                let enough = made == kinds.len() || set == 2 && made > 0;
                enough.then(|| {
                    let name = if set == 0 { format!("{name}: {}", KINDS[kinds[0]]) } else { name.to_owned() };
                    let text = copy::text(cut, states, &truth);
                    Seeded { original, name, truth, text }
                })
            });
            let Some(seeded) = seeded else { continue };
            sums.add(&seeded, &format!("set-{set}-copy-{at}"), set < WITH_SHEETS, folder);
        }
    }
    sums.figures()
}

/// Which edits a copy gets; of the first set every kind as often, and on other files than at its last turn.
fn kinds(set: usize, at: usize, seed: &mut Seed) -> Vec<usize> {
    match set {
        0 => vec![(at + at / 90) % KINDS.len()],
        1 => {
            let mut left: Vec<usize> = (0..KINDS.len()).collect();
            let mut own: Vec<usize> = (0..3).map(|_| left.remove(seed.below(left.len()))).collect();
            own.sort_unstable();
            own
        }
        _ => (0..KINDS.len()).collect(),
    }
}

fn originals(folder: &Folder) -> Vec<Original<'_>> {
    let orchestral = folder.works().filter(|(truth, _)| truth.file.starts_with("orchestra/"));
    let open = |(truth, work)| {
        let (truth, work): (&super::folder::Truth, &super::folder::Work) = (truth, work);
        let text = inflated(&folder.path.join(&truth.file))?;
        Some(Original { file: &truth.file, score: &work.reading.score, text })
    };
    orchestral.filter_map(open).collect()
}

/// The score in a compressed file.
fn inflated(path: &Path) -> Option<String> {
    let mut archive = zip::ZipArchive::new(std::fs::File::open(path).ok()?).ok()?;
    let is_score =
        |name: &String| !name.starts_with("META-INF") && (name.ends_with(".xml") || name.ends_with(".musicxml"));
    let name = archive.file_names().filter_map(|name| Some(name.ok()?.into_owned())).find(is_score)?;
    let mut text = String::new();
    archive.by_name(&name).ok()?.read_to_string(&mut text).ok()?;
    Some(text)
}

impl Sums {
    fn add(&mut self, seeded: &Seeded, title: &str, with_sheets: bool, folder: &Folder) {
        let Seeded { original, name, truth, text } = seeded;
        let input = Input { name: "copy.musicxml", bytes: text.as_bytes() };
        let judged = match read::read(&[input], &Limits::default()) {
            Ok(reading) => {
                let music = compare::music(original.score, &reading.score);
                judge::judge(original.score, &reading.score, truth, &music)
            }
            Err(errors) => {
                let cells = (truth.bars.len() * truth.parts.len()) as u64;
                Judged { cells, wrong: vec![format!("not read: {errors:?}")], ..Judged::default() }
            }
        };
        tell(title, seeded, &judged.wrong);
        self.copies += 1;
        self.cells.add(name, judged.right, judged.cells);
        self.invented.add(name, judged.invented, judged.untouched);
        self.matched.add(name, u64::from(judged.parts), 1);
        if with_sheets {
            let own = sheets_named(original, input, truth, &judged, folder);
            tell(title, seeded, &own.wrong);
            self.touched.add(name, own.named, own.touched);
            self.untouched.add(name, own.untouched - own.in_vain, own.untouched);
        }
    }

    fn figures(self) -> Vec<Figure> {
        let name = format!("bars of parts told as seeded in {} second drafts (goal 99.5 %)", self.copies);
        let figure = |name: &str, of_what, rows: Rows| Figure::new(name, of_what, rows.0);
        vec![
            figure(&name, "cells", self.cells),
            figure("untouched bars of parts that are called edited (goal 0)", "cells", self.invented),
            figure("second drafts whose parts are matched as seeded (goal all)", "drafts", self.matched),
            figure("touched sheets of parts on the reprint list (goal all)", "sheets", self.touched),
            figure("untouched sheets of parts that stay off it (goal 95 %)", "sheets", self.untouched),
        ]
    }
}

fn sheets_named(original: &Original, copy: Input, truth: &Truth, judged: &Judged, folder: &Folder) -> Named {
    let Ok(bytes) = std::fs::read(folder.path.join(original.file)) else { return Named::default() };
    let old = Input { name: original.file, bytes: &bytes };
    let draft = |input| DraftFiles { name: "draft".to_owned(), inputs: vec![input], ..DraftFiles::default() };
    match check::drafts(&[draft(old), draft(copy)], &DraftsOptions::default(), &mut Unwatched) {
        Ok(compared) => sheets::named(&compared, truth, judged),
        Err(errors) => Named { touched: 1, wrong: vec![format!("{errors:?}")], ..Named::default() },
    }
}

/// What was wrong with a copy, where it is asked for.
fn tell(title: &str, seeded: &Seeded, wrong: &[String]) {
    let Some(folder) = std::env::var_os(LOOK_INTO).filter(|_| !wrong.is_empty()) else { return };
    eprintln!("{title} {} {}: {}", seeded.original.file, seeded.name, seeded.truth.in_words());
    wrong.iter().for_each(|line| eprintln!("    {line}"));
    let path = Path::new(&folder).join(format!("{title}.musicxml"));
    if let Err(error) = std::fs::write(&path, &seeded.text) {
        eprintln!("    {}: {error}", path.display());
    }
}
