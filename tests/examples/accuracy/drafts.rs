//! Second drafts made by a fixed seed, and what is told of them.
//!
//! Each copy of an orchestral score is changed by a plan, which is the truth: bars put in, taken out and moved, notes changed,
//! parts dropped, added, renamed, reordered, written for another transposition.

use rastrum::compare;
use rastrum::score::Score;

use super::figure::{Figure, Row};
use super::folder::Folder;

#[path = "drafts/build.rs"]
mod build;
#[path = "drafts/judge.rs"]
mod judge;
#[path = "drafts/plan.rs"]
mod plan;
#[path = "drafts/seed.rs"]
mod seed;
#[path = "drafts/sheets.rs"]
mod sheets;

use judge::Judged;
use plan::{KINDS, Plan};
use seed::Seed;
use sheets::Named;

/// Copies with one change, with three, with all.
const SETS: [(&str, usize); 3] = [("one change", 120), ("three changes", 60), ("all changes", 20)];
/// The parts of every so-manieth copy are laid out for the reprint list.
const EVERY: usize = 5;

#[derive(Default)]
struct Sums {
    cells: Vec<Row>,
    invented: u64,
    parts: (u64, u64),
    named: Named,
}

pub fn figures(folder: &Folder) -> Vec<Figure> {
    let scores: Vec<(&str, &Score)> = folder
        .works()
        .filter(|(truth, work)| truth.file.starts_with("orchestra/") && work.reading.score.movements.len() == 1)
        .map(|(truth, work)| (truth.file.as_str(), &work.reading.score))
        .collect();
    if scores.is_empty() {
        return Vec::new();
    }
    let mut sums = Sums::default();
    for (set, (name, count)) in SETS.into_iter().enumerate() {
        let mut by_kind: Vec<(String, u64, u64)> = Vec::new();
        for copy in 0..count {
            let (file, score) = scores[copy % scores.len()];
            let mut seed = Seed::new((set * 1000 + copy) as u64);
            let kinds: Vec<usize> = match set {
                0 => vec![copy % KINDS.len()],
                1 => (0..3).map(|nth| (copy * 3 + nth * 4) % KINDS.len()).collect(),
                _ => (0..KINDS.len()).collect(),
            };
            let mut plan = Plan::of(score);
            kinds.iter().for_each(|kind| plan.change(*kind, score, &mut seed));
            let new = build::build(score, &plan);
            let music = compare::music(score, &new);
            let judged = judge::judge(score, &new, &plan, &music);
            let title = if set == 0 { format!("{name}: {}", KINDS[kinds[0]]) } else { name.to_owned() };
            add(&mut sums, &mut by_kind, title, judged);
            if std::env::var_os("RASTRUM_DRAFTS").is_some() && (judged.right < judged.cells || !judged.parts) {
                eprintln!("{file} set {set} copy {copy} {kinds:?}: {judged:?}");
            }
            if set < 2 && copy % EVERY == 0 {
                let own = sheets::named(score, &new, &plan, &music);
                if std::env::var_os("RASTRUM_DRAFTS").is_some() && (own.named < own.touched || own.named_in_vain > 0) {
                    eprintln!("{file} set {set} copy {copy} {kinds:?}: {own:?}");
                }
                sums.named.touched += own.touched;
                sums.named.named += own.named;
                sums.named.untouched += own.untouched;
                sums.named.named_in_vain += own.named_in_vain;
            }
        }
        sums.cells.extend(by_kind.into_iter().map(|(name, right, cells)| Row::new(&name, right, cells)));
    }
    let Sums { cells, invented, parts, named } = sums;
    let untouched = named.untouched - named.named_in_vain;
    vec![
        Figure::new("bars of parts told as seeded in 200 second drafts (goal 99.5 %)", "cells", cells)
            .with_note(format!("{invented} untouched ones called edited (goal 0)")),
        Figure::new(
            "second drafts whose parts are matched as seeded",
            "drafts",
            vec![Row::new("all", parts.0, parts.1)],
        ),
        Figure::new(
            "touched sheets of parts on the reprint list (goal all)",
            "sheets",
            vec![Row::new("all", named.named, named.touched)],
        ),
        Figure::new(
            "untouched sheets of parts that stay off it (goal 95 %)",
            "sheets",
            vec![Row::new("all", untouched, named.untouched)],
        ),
    ]
}

fn add(sums: &mut Sums, by_kind: &mut Vec<(String, u64, u64)>, name: String, judged: Judged) {
    sums.invented += judged.invented;
    sums.parts.0 += u64::from(judged.parts);
    sums.parts.1 += 1;
    match by_kind.iter_mut().find(|(known, ..)| *known == name) {
        Some((_, right, cells)) => (*right, *cells) = (*right + judged.right, *cells + judged.cells),
        None => by_kind.push((name, judged.right, judged.cells)),
    }
}
