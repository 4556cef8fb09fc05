//! CPU time of holding two drafts of a large work against each other, beside a bare parse of one of them, and the memory
//! that it takes.

use std::fmt::Write as _;
use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

use super::figure::{Figure, Outcome, median};
use super::memory;
use super::program::{bare_seconds, drafts, drafts_seconds};
use super::sample::Score;
use super::work_folder::WorkFolder;

/// More than elsewhere: two long processes a run.
const RUNS: usize = 9;
/// The work: parts and bars.
const PARTS: usize = 36;
const BARS: usize = 1_000;
/// Bars that the second draft lacks, and those in which every second part has another note.
const OUT: std::ops::Range<usize> = 100..112;
const EDITED: std::ops::Range<usize> = 200..220;
/// In bare parses of the file, a side, after reading.
const GOAL: f64 = 1.0;
const STAGES: [&str; 6] = ["cast-off", "survey", "propose", "what-if", "judge", "compare"];

/// For a work of the two largest scores, one after the other: the median of the runs' ratios.
pub fn figures(scores: &[Score], work: &WorkFolder) -> Outcome<Vec<Figure>> {
    let [.., one, other] = scores else { return Err("fewer than two scores to measure".into()) };
    let (one, other) = (text(&one.path)?, text(&other.path)?);
    let mut figures = Vec::new();
    // Memory that grew faster than the files would be over the line at one of two lengths.
    for bars in [BARS / 4, BARS] {
        let written = Drafts::write(&joined(&one, &other, bars)?, work)?;
        let what = format!("two drafts of {PARTS} parts and {bars} bars");
        figures.push(memory::figure(&what, written.bytes as f64, || drafts(&written.old, &written.new, work))?);
        if bars == BARS {
            figures.push(ratio(&what, &written, work)?);
        }
    }
    Ok(figures)
}

/// Two files.
struct Drafts {
    old: PathBuf,
    new: PathBuf,
    /// Of both.
    bytes: usize,
}

impl Drafts {
    fn write(bars: &[Vec<String>], work: &WorkFolder) -> Outcome<Drafts> {
        let (old, new) = (work.path().join("old.musicxml"), work.path().join("new.musicxml"));
        let (first, second) = (document(bars, |_, _, bar| Some(bar.to_owned())), document(bars, second_draft));
        fs::write(&old, &first)?;
        fs::write(&new, &second)?;
        Ok(Drafts { old, new, bytes: first.len() + second.len() })
    }
}

fn ratio(what: &str, Drafts { old, new, .. }: &Drafts, work: &WorkFolder) -> Outcome<Figure> {
    let mut pairs = Vec::new();
    for _ in 0..RUNS {
        let bare = bare_seconds(old)?;
        pairs.push((drafts_seconds(old, new, &STAGES, work)? / 2.0, bare));
    }
    let (own, bare) = median(&pairs, |(own, bare)| own / bare)?;
    Ok(Figure {
        name: format!("CPU a side, {what} after reading"),
        value: own / bare,
        goal: GOAL,
        unit: " bare parses",
        from: format!("{:.1} ms / {:.1} ms, median of {RUNS}", own * 1e3, bare * 1e3),
    })
}

fn second_draft(part: usize, at: usize, bar: &str) -> Option<String> {
    if OUT.contains(&at) {
        return None;
    }
    let changes = EDITED.contains(&at) && part.is_multiple_of(2);
    Some(if changes { bar.replacen("<octave>4", "<octave>5", 1) } else { bar.to_owned() })
}

fn text(path: &Path) -> Outcome<String> {
    let mut archive = zip::ZipArchive::new(File::open(path)?)?;
    let is_music =
        |name: &str| !name.starts_with("META-INF") && (name.ends_with(".xml") || name.ends_with(".musicxml"));
    let names = (0..archive.len()).map(|at| Ok(archive.by_index(at)?.name()?.into_owned()));
    let names = names.collect::<Outcome<Vec<String>>>()?;
    let name = names.into_iter().find(|name| is_music(name)).ok_or("no music in the archive")?;
    let mut text = String::new();
    archive.by_name(&name)?.read_to_string(&mut text)?;
    Ok(text)
}

/// For each part of the work its bars: those of a part of the one score, then of the other, and again.
fn joined(one: &str, other: &str, count: usize) -> Outcome<Vec<Vec<String>>> {
    let (one, other) = (parts(one), parts(other));
    if one.is_empty() || other.is_empty() {
        return Err("a score without parts".into());
    }
    let bars = |at: usize| -> Vec<String> {
        let (first, second) = (&one[at % one.len()], &other[at % other.len()]);
        first.iter().chain(second).cycle().take(count).map(|bar| (*bar).to_owned()).collect()
    };
    Ok((0..PARTS).map(bars).collect())
}

/// What stands in each bar of each part.
fn parts(text: &str) -> Vec<Vec<&str>> {
    text.split("<part id=").skip(1).map(bars_of).collect()
}

fn bars_of(part: &str) -> Vec<&str> {
    let inside = |text: &'_ str| (text.find('>').map_or(0, |at| at + 1), text.find("</measure>").unwrap_or(text.len()));
    let bars = part.split("<measure ").skip(1);
    bars.map(|text| {
        let (from, to) = inside(text);
        text.get(from..to).unwrap_or_default()
    })
    .collect()
}

fn document(bars: &[Vec<String>], draft: impl Fn(usize, usize, &str) -> Option<String>) -> String {
    let mut text = String::from("<score-partwise version=\"4.0\"><part-list>");
    for part in 0..bars.len() {
        let _ = write!(text, "<score-part id=\"P{part}\"><part-name>Part {part}</part-name></score-part>");
    }
    text.push_str("</part-list>");
    for (part, own) in bars.iter().enumerate() {
        let _ = write!(text, "<part id=\"P{part}\">");
        let kept = own.iter().enumerate().filter_map(|(at, bar)| draft(part, at, bar));
        for (number, bar) in (1..).zip(kept) {
            let _ = write!(text, "<measure number=\"{number}\">{bar}</measure>");
        }
        text.push_str("</part>");
    }
    text.push_str("</score-partwise>");
    text
}
