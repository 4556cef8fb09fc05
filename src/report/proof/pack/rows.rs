//! A part in reading order: the top of each page, its systems, the landmarks in them.

use crate::check::{PartFile, ProofedPart};
use crate::place::{BarIdx, BarSpan};
use crate::score::{Score, SystemMarkKind};

/// What no program has looked at, as a reader looks through the whole part for it.
const THROUGHOUT: [&str; 4] = [
    "Throughout: bowings, fingerings, breaths",
    "Throughout: cues make sense",
    "Throughout: nothing collides",
    "Throughout: spelling for the hand",
];

/// One line of the sheet each.
pub(super) fn rows(part: &ProofedPart) -> Vec<String> {
    let mut rows: Vec<String> = match &part.sheet {
        Some(sheet) => of_pages(&sheet.recorded.layout, &sheet.music),
        None => part.files.iter().flat_map(of_sections).collect(),
    };
    rows.extend(THROUGHOUT.map(str::to_owned));
    rows
}

fn of_pages(layout: &crate::layout::Layout, music: &Score) -> Vec<String> {
    let mut rows = Vec::new();
    for (number, page) in (1..).zip(&layout.pages) {
        rows.push(format!("Top of page {number}: name, number"));
        for system in page.systems.iter().filter_map(|system| system.span()) {
            rows.extend(passage(system, music));
        }
    }
    rows
}

/// Without pages, from one landmark to the next.
fn of_sections(file: &PartFile) -> Vec<String> {
    let music = &file.music;
    let Some(all) = music.all_bars() else { return Vec::new() };
    let mut starts: Vec<u32> = music
        .marks
        .iter()
        .filter(|mark| {
            !mark.over.is_empty() && matches!(mark.kind, SystemMarkKind::Rehearsal(_) | SystemMarkKind::Tempo { .. })
        })
        .map(|mark| mark.bar.0)
        .chain([all.first.0])
        .collect();
    starts.sort_unstable();
    starts.dedup();
    let mut rows = vec![format!("{}: name, clef, key, metre", file.name)];
    for (at, first) in starts.iter().enumerate() {
        let last = starts.get(at + 1).map_or(all.last.0, |next| next.saturating_sub(1));
        rows.extend(passage(BarSpan::new(BarIdx(*first), BarIdx(last)), music));
    }
    rows
}

/// "Bars 12 to 19", then each landmark in them: "B, Allegro: bar 14".
fn passage(bars: BarSpan, music: &Score) -> Vec<String> {
    let mut marks: Vec<(BarIdx, Vec<String>)> = Vec::new();
    for mark in music.marks.iter().filter(|mark| !mark.over.is_empty() && bars.contains(mark.bar)) {
        let text = match &mark.kind {
            SystemMarkKind::Rehearsal(text) | SystemMarkKind::TempoMoves(text) | SystemMarkKind::Jump(text) => {
                text.clone()
            }
            SystemMarkKind::Tempo { words, .. } if !words.is_empty() => words.clone(),
            SystemMarkKind::Tempo { .. } => "tempo".to_owned(),
            SystemMarkKind::GeneralPause => "G.P.".to_owned(),
        };
        match marks.last_mut().filter(|(bar, _)| *bar == mark.bar) {
            Some((_, texts)) if texts.contains(&text) => {}
            Some((_, texts)) => texts.push(text),
            None => marks.push((mark.bar, vec![text])),
        }
    }
    let own = crate::words::sentence(&music.span_label(bars));
    let of_mark =
        |(bar, texts): &(BarIdx, Vec<String>)| format!("{LANDMARK}{}: bar {}", texts.join(", "), music.label(*bar));
    [own].into_iter().chain(marks.iter().map(of_mark)).collect()
}

/// Before a landmark inside a system.
pub(super) const LANDMARK: &str = "- ";
