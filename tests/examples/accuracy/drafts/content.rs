//! What stands in a bar of a part, worked out from the score alone and not by the comparing that is measured.

use rastrum::place::{BarIdx, StaffId};
use rastrum::score::{EventKind, MarkKind, Score};

/// Staves of a part, as places in a bar's cells.
pub fn staves(score: &Score, part: usize) -> impl Iterator<Item = usize> {
    (0..score.staves.len()).filter(move |at| score.staves[*at].part.at() == part)
}

/// Whether a part plays in a bar.
pub fn sounds(score: &Score, bar: usize, part: usize) -> bool {
    let mut cells = staves(score, part).filter_map(|staff| score.cell(BarIdx(bar as u32), StaffId(staff as u16)));
    cells.any(|cell| cell.sounds())
}

/// Everything that a player reads in one bar of a part, at sounding pitch, in an order of its own.
pub fn contents(score: &Score, bar: usize, part: usize) -> Vec<String> {
    let mut all = Vec::new();
    for (nth, staff) in staves(score, part).enumerate() {
        let Some(cell) = score.cell(BarIdx(bar as u32), StaffId(staff as u16)) else { continue };
        for event in cell.events.iter().filter(|event| event.printed) {
            let EventKind::Chord(notes) = &event.kind else { continue };
            for note in notes {
                let height = match note.unpitched {
                    true => note.pitch.steps(),
                    false => cell.transposition.sounding(note.pitch).quarter_tones(),
                };
                let signs: Vec<String> = event.signs.names().collect();
                let words: Vec<&str> = event.lyrics.iter().map(|syllable| syllable.text.as_str()).collect();
                all.push(format!(
                    "{nth} {} {} {height} {} {} {} {:?} {signs:?} {words:?}",
                    event.onset, event.length, event.cue, event.fermata, note.tie_starts, event.slurs,
                ));
            }
        }
        for mark in &cell.marks {
            match &mark.kind {
                MarkKind::Dynamic(text) | MarkKind::Words(text) => all.push(format!("{nth} {} {text}", mark.onset)),
                other => all.push(format!("{nth} {} {other:?}", mark.onset)),
            }
        }
    }
    all.sort();
    all
}

/// One bar of some parts.
pub fn whole(score: &Score, bar: usize, parts: &[usize]) -> Vec<Vec<String>> {
    parts.iter().map(|part| contents(score, bar, *part)).collect()
}
