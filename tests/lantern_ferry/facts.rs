//! The facts of the demonstration score, worked out from the music and the layout, as tables.

pub mod marks;
pub mod pages;

use std::fmt::Write;

use rastrum::units::Spaces;

use crate::layout;
use crate::music;
use crate::score::Movement;
use crate::seconds;

/// All tables of README.md.
pub fn tables() -> String {
    let movements = music::movements();
    let parts = [
        totals(&movements),
        pages::table(&movements),
        marks::changes_table(&movements),
        marks::rehearsal_table(&movements),
        marks::margins_table(&movements),
    ];
    parts.join("\n")
}

/// The pages of the first movement's second draft.
pub fn second_draft_table() -> String {
    pages::table(&[music::second_draft()])
}

fn totals(movements: &[Movement]) -> String {
    let mut text = "| movement | bars | bars played | pages | seconds |\n|---|---|---|---|---|\n".to_owned();
    for movement in movements {
        let (title, bars) = (movement.title, movement.bars());
        let played = seconds::as_played(movement).len();
        let pages = layout::lay_out(movement).len();
        let _ = writeln!(text, "| {title} | {bars} | {played} | {pages} | {:.2} |", seconds::total(movement).0);
    }
    text
}

/// To a tenth of a space.
fn spaces(length: Spaces) -> String {
    format!("{:.1}", length.0)
}
