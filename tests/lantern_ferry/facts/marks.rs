//! Where tempo and metre change, where the rehearsal marks stand, and what stands near the margins.

use std::fmt::Write;

use rastrum::units::{Seconds, Spaces};

use super::{pages, spaces};
use crate::layout::{self, PageLayout};
use crate::orchestra::{STAVES, Staff, staff_name};
use crate::paper;
use crate::score::{Direction, Movement};
use crate::seconds;

/// A rehearsal mark and the way from the one before (or from the beginning), repeats left out.
pub struct Rehearsal {
    pub letter: &'static str,
    pub movement: u32,
    pub bar: usize,
    pub bars_before: usize,
    pub time_before: Seconds,
}

/// A mark whose place is recorded, and how far it stands beyond a margin (below 0: inside).
pub struct NearMargin {
    pub page: usize,
    pub bar: usize,
    pub staff: Staff,
    pub mark: &'static str,
    pub margin: &'static str,
    pub beyond: Spaces,
}

pub fn rehearsal_marks(movements: &[Movement]) -> Vec<Rehearsal> {
    let mut marks = Vec::new();
    let (mut bars_before, mut time_before) = (0, Seconds::ZERO);
    for movement in movements {
        for (at, &length) in seconds::of_bars(movement).iter().enumerate() {
            if let Some(letter) = movement.heads[at].rehearsal {
                marks.push(Rehearsal { letter, movement: movement.number, bar: at + 1, bars_before, time_before });
                (bars_before, time_before) = (0, Seconds::ZERO);
            }
            bars_before += 1;
            time_before += length;
        }
    }
    marks
}

pub fn near_margins(movements: &[Movement]) -> Vec<NearMargin> {
    let mut marks = Vec::new();
    for movement in movements {
        for page in layout::lay_out(movement) {
            let bars = page.systems.iter().flat_map(|system| system.first_bar..=system.last_bar);
            for (bar, staff) in bars.flat_map(|bar| (0..STAVES).map(move |staff| (bar, staff))) {
                for placed in &movement.cell(bar, staff).directions {
                    let right = placed.place.past_bar_end.map(|past| ("right", past));
                    let bottom = placed.place.y.map(|y| ("bottom", -y - paper::STAFF - pages::foot(&page)));
                    let mark = if placed.what == Direction::HairpinStop { "end of a hairpin" } else { "dynamic" };
                    let here = |(margin, beyond)| NearMargin { page: page.number, bar, staff, mark, margin, beyond };
                    marks.extend(right.into_iter().chain(bottom).map(here));
                }
            }
        }
    }
    marks
}

/// One row for each tempo mark.
pub fn changes_table(movements: &[Movement]) -> String {
    let mut text = "| movement | bar | page | place | change |\n|---|---|---|---|---|\n".to_owned();
    for movement in movements {
        let pages = layout::lay_out(movement);
        for bar in 1..=movement.bars() {
            let Some(tempo) = &movement.head(bar).tempo else { continue };
            let Some(page) = pages.iter().find(|page| page.holds(bar)) else { continue };
            let _ = writeln!(
                text,
                "| {} | {bar} | {} | {} | {}, {}/{}, {} quarters a minute |",
                movement.number,
                page.number,
                place(page, bar),
                tempo.words,
                movement.head(bar).metre.0,
                movement.head(bar).metre.1,
                tempo.quarters_a_minute()
            );
        }
    }
    text
}

fn place(page: &PageLayout, bar: usize) -> String {
    let side = if paper::is_left(page.number) { "left" } else { "right" };
    let where_on_it = if page.first_bar() == bar { "first bar of" } else { "inside" };
    format!("{where_on_it} a {side}-hand page")
}

pub fn rehearsal_table(movements: &[Movement]) -> String {
    let mut text =
        "| mark | movement | bar | bars since the mark before | seconds since then |\n|---|---|---|---|---|\n"
            .to_owned();
    for Rehearsal { letter, movement, bar, bars_before, time_before } in rehearsal_marks(movements) {
        let _ = writeln!(text, "| {letter} | {movement} | {bar} | {bars_before} | {:.1} |", time_before.0);
    }
    text
}

pub fn margins_table(movements: &[Movement]) -> String {
    let mut text =
        "| page | bar | staff | mark | margin | beyond it by (spaces) |\n|---|---|---|---|---|---|\n".to_owned();
    for NearMargin { page, bar, staff, mark, margin, beyond } in near_margins(movements) {
        let _ = writeln!(text, "| {page} | {bar} | {} | {mark} | {margin} | {} |", staff_name(staff), spaces(beyond));
    }
    text
}
