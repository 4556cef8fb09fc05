//! Prints every note of a file at the pitch that it sounds at, for another program to compare: one JSON array a part,
//! of bar (counted from 0) and key number (MIDI; quarter tones are halves), sorted.
//!
//! `cargo run --example sounding -- FILE`

use std::process::ExitCode;

use rastrum::limits::Limits;
use rastrum::place::PartId;
use rastrum::read::{Input, read};
use rastrum::score::EventKind;

fn main() -> ExitCode {
    let Some(path) = std::env::args_os().nth(1) else {
        eprintln!("usage: sounding FILE");
        return ExitCode::from(2);
    };
    let Ok(bytes) = std::fs::read(&path) else {
        eprintln!("error: {} cannot be read", path.to_string_lossy());
        return ExitCode::from(2);
    };
    let score = match read(&[Input { name: "score", bytes: &bytes }], &Limits::default()) {
        Ok(reading) => reading.score,
        Err(errors) => {
            eprintln!("error: {errors:?}");
            return ExitCode::from(2);
        }
    };
    for part in (0..score.parts.len()).map(|at| PartId(at as u16)) {
        let mut notes: Vec<(usize, f64)> = Vec::new();
        for staff in score.staves_of(part) {
            for bar in 0..score.bars.len() {
                let Some(cell) = score.cells.get(bar * score.staves.len() + staff.at()) else { continue };
                for event in &cell.events {
                    let EventKind::Chord(chord) = &event.kind else { continue };
                    let pitched = chord.iter().filter(|note| !note.unpitched);
                    let sounding = pitched.map(|note| cell.transposition.sounding(note.pitch).quarter_tones());
                    notes.extend(sounding.map(|height| (bar, f64::from(height) / 2.0)));
                }
            }
        }
        notes.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        println!("{}", serde_json::to_string(&notes).unwrap_or_default());
    }
    ExitCode::SUCCESS
}
