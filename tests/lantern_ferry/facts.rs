//! The facts of the demonstration score, worked out from the music and the layout, as tables.

pub mod marks;
pub mod pages;

use std::fmt::Write;

use crate::layout;
use crate::music;
use crate::score::Movement;
use crate::seconds;

/// All tables of README.md.
pub fn tables() -> String {
    let movements = music::movements();
    let mut text = String::new();
    totals(&mut text, &movements);
    pages::table(&mut text, &movements);
    marks::changes(&mut text, &movements);
    marks::rehearsal(&mut text, &movements);
    marks::margins(&mut text, &movements);
    text.trim_end().to_owned() + "\n"
}

fn totals(text: &mut String, movements: &[Movement]) {
    text.push_str("| movement | bars | bars played | pages | seconds |\n|---|---|---|---|---|\n");
    for movement in movements {
        let pages = layout::lay_out(movement).len();
        let played = seconds::as_played(movement).len();
        let _ = writeln!(
            text,
            "| {} | {} | {played} | {pages} | {:.2} |",
            movement.title,
            movement.bars(),
            seconds::total(movement)
        );
    }
    text.push('\n');
}

/// Tenths as staff spaces.
fn spaces(tenths: f64) -> String {
    format!("{:.1}", tenths / 10.0)
}
