//! One player's part in one file.

use super::bar::{BarJob, Begins, write_bar};
use super::breaks::Breaks;
use super::overhead::Overhead;
use super::source::Source;
use super::{WantedPart, head, tag};
use crate::place::{BarIdx, StaffId};
use crate::read::Cursor;
use crate::score::{Movement, Score};

/// What parts of one file are cut from.
#[derive(Clone, Copy)]
pub(super) struct Place<'a> {
    pub score: &'a Score,
    pub movement: &'a Movement,
    pub source: &'a Source<'a>,
    pub overhead: &'a Overhead<'a>,
}

impl Place<'_> {
    /// Part of the file, counted from 0, and staff in it, counted from 1, that a staff of the score is.
    pub fn of_staff(&self, staff: StaffId) -> Option<(usize, u16)> {
        let staff = self.score.staves.get(staff.at())?;
        Some((self.movement.parts.iter().position(|part| *part == staff.part)?, staff.number))
    }
}

/// The staves of one part of the file that are the player's.
pub(super) struct Own {
    pub part: usize,
    /// Counted from 1, from the top.
    pub staves: Vec<u16>,
    /// The same staves in the player's music.
    pub lines: Vec<StaffId>,
}

/// The text of the file; `None` where the player has no staff in this movement.
pub(super) fn write(place: &Place<'_>, wanted: &WantedPart<'_>) -> Option<String> {
    let parts = parts_of(place, wanted);
    if parts.is_empty() {
        return None;
    }
    let breaks = Breaks::of(wanted.pages);
    let mut out = head::write(place, wanted, &parts);
    for (nth, own) in parts.iter().enumerate() {
        let part = place.source.parts.get(own.part)?;
        out.push_str(&format!("\n  <part id=\"{}\">", tag::escaped(&head::id_of(place.source, own.part))));
        let mut divisions = 1;
        let mut cursor = Cursor::new();
        for (at, bar) in place.movement.bars.iter().enumerate() {
            let text = part.bars.get(at).copied().unwrap_or_default();
            let rest =
                breaks.rest_at(bar, wanted.blocks, place.movement).filter(|_| is_silent(&wanted.player.music, bar));
            let begins = Begins {
                print: if nth == 0 { breaks.print(bar, place.movement) } else { None },
                rest: rest.filter(|rest| rest.first == bar).map_or(1, |rest| rest.iter().count()),
            };
            let leads = nth == 0;
            let job = BarJob { place, player: wanted.player, own, bar, at, begins, is_rest: rest.is_some(), leads };
            out.push_str(&write_bar(&job, text, &mut divisions, &mut cursor));
        }
        out.push_str("\n  </part>");
    }
    out.push_str(&format!("\n</{}>\n", head::ROOT));
    Some(out)
}

fn is_silent(music: &Score, bar: BarIdx) -> bool {
    (0_u16..).zip(&music.staves).all(|(staff, _)| music.cell(bar, StaffId(staff)).is_none_or(|cell| cell.is_silent()))
}

fn parts_of(place: &Place<'_>, wanted: &WantedPart<'_>) -> Vec<Own> {
    let mut parts: Vec<Own> = Vec::new();
    for (line, staff) in (0_u16..).map(StaffId).zip(&wanted.player.staves) {
        let Some((part, number)) = place.of_staff(*staff) else { continue };
        match parts.iter_mut().find(|own| own.part == part) {
            Some(own) => {
                own.staves.push(number);
                own.lines.push(line);
            }
            None => parts.push(Own { part, staves: vec![number], lines: vec![line] }),
        }
    }
    parts
}
