//! Proofs parts that another program copied out of open scores, and the same parts with one fault each.
//!
//! `cargo run --release --example proofing -- DATA COPIES FAULTS.jsonl`: `COPIES` and `FAULTS.jsonl` are written by
//! `tests/outside/proof/copyist.py` and `faults.py`. Exits with 1 when a goal is missed.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use rastrum::check::{ProofOptions, Unwatched, proof as proof_set};
use rastrum::limits::Limits;
use rastrum::place::{BarIdx, BarSpan, PartId};
use rastrum::players::{self, Player};
use rastrum::proof::{Class, Difference, Line, proof};
use rastrum::read::{Input, read};
use rastrum::score::Score;
use serde::Deserialize;

/// What a fault may be told as. A rest that is counted wrong is a rest, whichever bar of it is taken out; a note that
/// lands on another one is a note fewer.
const ACCEPTED: &[(&str, &[Class])] = {
    use Class::*;
    &[
        ("bars taken out", &[MissingBars]),
        ("bar put in", &[ExtraBars]),
        ("rest counted too short", &[RestCount]),
        ("rest counted too long", &[RestCount]),
        ("rest printed over a played bar", &[RestCount]),
        ("rests joined across a landmark", &[RestAcrossLandmark]),
        ("bar numbers one too low", &[BarNumbers]),
        ("rehearsal mark lost", &[Landmark]),
        ("rehearsal mark a bar late", &[Landmark]),
        ("rehearsal mark renamed", &[Landmark]),
        ("tempo lost", &[Tempo]),
        ("tempo a bar late", &[Tempo]),
        ("tempo changed", &[Tempo]),
        ("wrong pitch", &[Pitch, MissingNote]),
        ("passage higher or lower", &[Passage]),
        ("note too short", &[Length]),
        ("note elsewhere in the bar", &[Place, MissingNote, ExtraNote]),
        ("note lost", &[MissingNote]),
        ("note too many", &[ExtraNote]),
        ("tie lost", &[Tie]),
        ("dynamic lost", &[Dynamic]),
        ("dynamic changed", &[Dynamic]),
        ("dynamic too many", &[Dynamic]),
        ("dynamic elsewhere in the bar", &[Dynamic]),
        ("hairpin lost", &[Hairpin]),
        ("hairpin the other way", &[Hairpin]),
        ("hairpin too many", &[Hairpin]),
        ("hairpin ends bars later", &[Hairpin]),
        ("words lost", &[Words]),
        ("words changed", &[Words]),
        ("words too many", &[Words]),
        ("words a bar late", &[Words]),
        ("articulation lost", &[Articulation]),
        ("articulation changed", &[Articulation]),
        ("articulation too many", &[Articulation]),
        ("articulation on another note", &[Articulation]),
        ("ornament lost", &[Ornament]),
        ("ornament too many", &[Ornament]),
        ("slur lost", &[Slur]),
        ("slur too many", &[Slur]),
        ("slur begins a note later", &[Slur]),
        ("fermata lost", &[Pause]),
        ("fermata too many", &[Pause]),
        ("key changed", &[Key]),
        ("metre changed", &[Metre]),
        ("repeat lost", &[Repeat]),
        ("repeat too many", &[Repeat]),
        ("ending lost", &[Repeat]),
        ("double bar lost", &[Barline]),
        ("cue in the wrong key", &[Cue]),
        ("cue with a wrong note", &[Cue]),
        ("cue too short", &[Cue]),
    ]
};

/// Every one of these must be found.
const STRICT: [&str; 7] = [
    "bars taken out",
    "bar put in",
    "rest counted too short",
    "rest counted too long",
    "rest printed over a played bar",
    "rehearsal mark lost",
    "rehearsal mark a bar late",
];

/// One line of the faults file.
#[derive(Deserialize)]
struct Fault {
    file: String,
    fault: String,
    first: u32,
    last: u32,
    edits: Vec<(usize, Option<String>)>,
}

fn main() -> ExitCode {
    let arguments: Vec<PathBuf> = std::env::args_os().skip(1).map(PathBuf::from).collect();
    let [data, copies, faults] = arguments.as_slice() else {
        eprintln!("usage: proofing DATA COPIES FAULTS.jsonl");
        return ExitCode::from(2);
    };
    match run(data, copies, faults) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(message) => {
            eprintln!("error: {message}");
            ExitCode::from(2)
        }
    }
}

fn run(data: &Path, copies: &Path, faults: &Path) -> Result<bool, String> {
    let works = works(copies)?;
    let clean = clean(data, &works)?;
    let seeded = seeded(data, copies, faults)?;
    Ok(clean && seeded)
}

fn works(copies: &Path) -> Result<Vec<PathBuf>, String> {
    let entries = fs::read_dir(copies).map_err(|error| format!("{}: {error}", copies.display()))?;
    let mut works: Vec<PathBuf> =
        entries.filter_map(Result::ok).map(|entry| entry.path()).filter(|path| path.is_dir()).collect();
    works.sort();
    Ok(works)
}

/// The score that a folder of copies was made from.
fn score_bytes(data: &Path, work: &Path) -> Result<Vec<u8>, String> {
    let name = work.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let orchestra = data.join("orchestra").join(format!("{name}.mxl"));
    let path = if orchestra.exists() { orchestra } else { data.join("quartets").join(name).join("score.mxl") };
    bytes(&path)
}

fn bytes(path: &Path) -> Result<Vec<u8>, String> {
    fs::read(path).map_err(|error| format!("{}: {error}", path.display()))
}

/// The parts as they were copied: whose each is must be told, and nothing may differ.
fn clean(data: &Path, works: &[PathBuf]) -> Result<bool, String> {
    let (mut parts, mut right, mut lines, mut open) = (0, 0, 0, 0);
    for work in works {
        let score = score_bytes(data, work)?;
        let mut files: Vec<PathBuf> = fs::read_dir(work)
            .map_err(|error| error.to_string())?
            .filter_map(Result::ok)
            .map(|entry| entry.path())
            .collect();
        files.sort();
        let contents: Vec<(String, Vec<u8>)> = files
            .iter()
            .map(|path| Ok((path.file_name().unwrap_or_default().to_string_lossy().into_owned(), bytes(path)?)))
            .collect::<Result<_, String>>()?;
        let mut inputs = vec![Input { name: "score", bytes: &score }];
        inputs.extend(contents.iter().map(|(name, bytes)| Input { name, bytes }));
        let proofed =
            proof_set(&inputs, &ProofOptions::default(), &mut Unwatched).map_err(|errors| format!("{errors:?}"))?;
        parts += contents.len();
        for part in &proofed.parts {
            for file in &part.files {
                let staff = part.player.staves.first().and_then(|staff| proofed.score.staves.get(staff.at()));
                let own = staff.is_some_and(|staff| staff.part == part_of(&file.name));
                right += usize::from(own);
                if !own {
                    println!("  {}: {} taken for {}", work.display(), file.name, part.player.name);
                }
                lines += file.proof.differences.len();
                open += file.proof.cannot_tell.len();
                for own in &file.proof.differences {
                    println!("  {}/{}: {}", work.display(), file.name, told(own, &proofed.score));
                }
            }
        }
        for aside in &proofed.set_aside {
            println!("  {}: {aside}", work.display());
        }
    }
    println!("copied parts given to their players: {right} of {parts}");
    println!(
        "differences told in copied parts: {lines} in {parts} parts (goal 0); places that cannot be told: {open} (goal 0)"
    );
    Ok(right == parts && lines == 0 && open == 0)
}

/// "07 Oboe 1.musicxml" is the seventh part of its score.
fn part_of(file: &str) -> PartId {
    let number: u16 = file.split(' ').next().and_then(|number| number.parse().ok()).unwrap_or(0);
    PartId(number.saturating_sub(1))
}

fn told(own: &Difference, score: &Score) -> String {
    format!("{}: {}: {} | {}", score.span_label(own.bars), own.class.name(), own.score, own.part)
}

#[derive(Default)]
struct Tally {
    found: u32,
    all: u32,
}

fn seeded(data: &Path, copies: &Path, faults: &Path) -> Result<bool, String> {
    let text = fs::read_to_string(faults).map_err(|error| format!("{}: {error}", faults.display()))?;
    let mut tallies: BTreeMap<String, Tally> = BTreeMap::new();
    let (mut work, mut score) = (PathBuf::new(), Score::default());
    let (mut file, mut source, mut player): (String, String, Option<Player>) = (String::new(), String::new(), None);
    let mut strange = 0;
    for line in text.lines() {
        let fault: Fault = serde_json::from_str(line).map_err(|error| error.to_string())?;
        let path = copies.join(&fault.file);
        let own_work = path.parent().unwrap_or(copies).to_owned();
        if own_work != work {
            let bytes = score_bytes(data, &own_work)?;
            score = reading(&bytes)?;
            work = own_work;
        }
        if file != fault.file {
            source = String::from_utf8(bytes(&path)?).map_err(|error| error.to_string())?;
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            player = players::of_part(&score, part_of(&name));
            file.clone_from(&fault.file);
        }
        let (Some(player), Some(bars)) = (&player, score.all_bars()) else { continue };
        let part = reading(edited(&source, &fault.edits).as_bytes())?;
        let proofed = proof(&Line { score: &score, player, bars }, &part);
        let accepted = ACCEPTED.iter().find(|(name, _)| *name == fault.fault).map_or(&[][..], |(_, classes)| classes);
        let truth = BarSpan::new(BarIdx(fault.first), BarIdx(fault.last));
        let is_it = |own: &&Difference| {
            accepted.contains(&own.class) && own.bars.first <= truth.last && truth.first <= own.bars.last
        };
        let tally = tallies.entry(fault.fault.clone()).or_default();
        tally.all += 1;
        if proofed.differences.iter().any(|own| is_it(&own)) {
            tally.found += 1;
        } else {
            println!("  not found: {} in {}, bars {}-{}", fault.fault, fault.file, fault.first, fault.last);
        }
        for own in proofed.differences.iter().filter(|own| !is_it(own)) {
            strange += 1;
            println!(
                "  beside \"{}\" in {}, bars {}-{}: {}",
                fault.fault,
                fault.file,
                fault.first,
                fault.last,
                told(own, &score)
            );
        }
    }
    let mut holds = true;
    let (mut found, mut all) = (0, 0);
    for (name, tally) in &tallies {
        println!("{name}: {} of {}", tally.found, tally.all);
        if STRICT.contains(&name.as_str()) {
            holds &= tally.found == tally.all;
        } else {
            found += tally.found;
            all += tally.all;
        }
    }
    let copies: u32 = tallies.values().map(|tally| tally.all).sum();
    println!("bars, rests and landmarks: {} (goal: all)", if holds { "all found" } else { "not all found" });
    println!("all others: {found} of {all}, {:.2} % (goal 99.5)", 100.0 * f64::from(found) / f64::from(all.max(1)));
    println!("lines about anything else: {strange} in {copies} copies (goal: 1 in 100)");
    Ok(holds
        && f64::from(found) >= 0.995 * f64::from(all)
        && f64::from(strange) * 100.0 <= f64::from(copies)
        && copies >= 2000)
}

fn reading(bytes: &[u8]) -> Result<Score, String> {
    read(&[Input { name: "part", bytes }], &Limits::default())
        .map(|reading| reading.score)
        .map_err(|errors| format!("{errors:?}"))
}

/// The text with some of its bars replaced or taken out.
fn edited(source: &str, edits: &[(usize, Option<String>)]) -> String {
    let mut text = String::with_capacity(source.len());
    let mut rest = source;
    let mut at = 0;
    while let Some((before, bar)) = rest.split_once("<measure ") {
        let (bar, after) = bar.split_once("</measure>").unwrap_or((bar, ""));
        text.push_str(before);
        match edits.iter().find(|(number, _)| *number == at) {
            Some((_, new)) => text.push_str(new.as_deref().unwrap_or_default()),
            None => text.extend(["<measure ", bar, "</measure>"]),
        }
        rest = after;
        at += 1;
    }
    text.push_str(rest);
    text
}
