//! Where tempo and metre change, where the rehearsal marks stand, and what stands near the margins.

use std::fmt::Write;

use super::spaces;
use crate::layout::{self, PageLayout};
use crate::orchestra::{STAVES, staff_name};
use crate::paper;
use crate::score::Movement;
use crate::seconds;

/// One row for each tempo mark.
pub fn changes(text: &mut String, movements: &[Movement]) {
    text.push_str("| movement | bar | page | place | change |\n|---|---|---|---|---|\n");
    for movement in movements {
        let pages = layout::lay_out(movement);
        for bar in 1..=movement.bars() {
            let Some(tempo) = &movement.head(bar).tempo else { continue };
            let holds = |page: &&PageLayout| {
                page.systems.iter().any(|system| (system.first_bar..=system.last_bar).contains(&bar))
            };
            let Some(page) = pages.iter().find(holds) else { continue };
            let side = if paper::is_left(page.number) { "left" } else { "right" };
            let first = page.systems[0].first_bar == bar;
            let place =
                if first { format!("first bar of a {side}-hand page") } else { format!("inside a {side}-hand page") };
            let metre = movement.head(bar).metre;
            let _ = writeln!(
                text,
                "| {} | {bar} | {} | {place} | {}, {}/{}, {} quarters a minute |",
                movement.number,
                page.number,
                tempo.words,
                metre.0,
                metre.1,
                tempo.quarters_a_minute()
            );
        }
    }
    text.push('\n');
}

/// One row for each rehearsal mark, with the way from the one before, repeats left out.
pub fn rehearsal(text: &mut String, movements: &[Movement]) {
    text.push_str(
        "| mark | movement | bar | bars since the mark before | seconds since then |\n|---|---|---|---|---|\n",
    );
    let (mut bars, mut time) = (0, 0.0);
    for movement in movements {
        for (at, length) in seconds::of_bars(movement).iter().enumerate() {
            if let Some(letter) = movement.heads[at].rehearsal {
                let _ = writeln!(text, "| {letter} | {} | {} | {bars} | {time:.1} |", movement.number, at + 1);
                (bars, time) = (0, 0.0);
            }
            bars += 1;
            time += length;
        }
    }
    text.push('\n');
}

/// Marks with a recorded place, and how far they stand beyond the margin (below 0: inside).
pub fn margins(text: &mut String, movements: &[Movement]) {
    text.push_str("| page | bar | staff | mark | beyond which margin | by (spaces) |\n|---|---|---|---|---|---|\n");
    for movement in movements {
        for page in layout::lay_out(movement) {
            let bars = page.systems.iter().flat_map(|system| system.first_bar..=system.last_bar);
            for (bar, staff) in bars.flat_map(|bar| (0..STAVES).map(move |staff| (bar, staff))) {
                for placed in &movement.cell(bar, staff).directions {
                    let right = placed.place.past_bar_end.map(|past| ("right", past));
                    let foot = placed.place.y.map(|y| ("bottom", -y - paper::STAFF_TENTHS - super::pages::foot(&page)));
                    for (margin, beyond) in right.into_iter().chain(foot) {
                        let (name, what) = (staff_name(staff), &placed.what);
                        let (number, by) = (page.number, spaces(beyond));
                        let _ = writeln!(text, "| {number} | {bar} | {name} | {what:?} | {margin} | {by} |");
                    }
                }
            }
        }
    }
    text.push('\n');
}
