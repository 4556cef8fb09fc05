//! Natural widths of bars: onset columns at the distances that note values ask for.

use super::spacing::sketch;
use crate::place::BarIdx;
use crate::score::{Cell, EventKind, Score};
use crate::units::{Fraction, Spaces};

/// Room of a quarter note (Gould, Behind Bars, p. 39, second-hand).
const QUARTER: f64 = 3.5;
/// No column is narrower (from memory: a notehead and a little air).
const NARROWEST: f64 = 1.8;
/// Before and after the barline (from memory).
const BARLINE: f64 = 1.7;
/// An accidental, where a column has one (from memory).
const ACCIDENTAL: f64 = 0.5;
/// A bar with nothing but rests (from memory).
const EMPTY_BAR: f64 = 6.0;
/// A metre or a clef printed anew (from memory).
const SIGN: f64 = 2.5;

/// Natural widths of all bars.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BarWidths(Vec<f32>);

impl BarWidths {
    /// Measures every bar of a score.
    #[must_use]
    pub fn of(score: &Score) -> BarWidths {
        let staves = score.staves.len();
        let mut columns = Vec::new();
        let width = |(at, bar): (usize, &crate::score::Bar)| {
            let cells = score.cells.get(at * staves..(at + 1) * staves).unwrap_or_default();
            let signs = if bar.metre_changes { SIGN } else { 0.0 };
            (natural(cells, bar.length, &mut columns) + signs) as f32
        };
        BarWidths(score.bars.iter().enumerate().map(width).collect())
    }

    /// Width of a bar set neither tight nor loose.
    #[must_use]
    pub fn of_bar(&self, bar: BarIdx) -> Spaces {
        Spaces(self.0.get(bar.at()).map_or(EMPTY_BAR, |width| f64::from(*width)))
    }
}

fn natural(cells: &[Cell], length: Fraction, columns: &mut Vec<(Fraction, bool)>) -> f64 {
    if let Some((sketched, room)) = sketch::column(cells, length) {
        return (BARLINE + sketched.spring.0 + room.0).max(EMPTY_BAR);
    }
    columns.clear();
    let mut clefs = false;
    for cell in cells {
        clefs |= !cell.clef_changes.is_empty();
        for event in &cell.events {
            if let EventKind::Chord(notes) = &event.kind {
                columns.push((event.onset, notes.iter().any(|note| note.accidental)));
            }
        }
    }
    columns.sort_unstable_by(|a, b| a.0.cmp(&b.0).then(b.1.cmp(&a.1)));
    columns.dedup_by_key(|column| column.0);
    let mut width = BARLINE + if clefs { SIGN } else { 0.0 };
    for (at, (onset, accidental)) in columns.iter().enumerate() {
        let next = columns.get(at + 1).map_or(length, |column| column.0);
        let gap = next.checked_sub(*onset).map_or(0.0, Fraction::to_f64).max(0.0);
        // Twice as long takes half as much again: the square root comes close to the handbooks' table.
        width += (QUARTER * gap.sqrt()).max(NARROWEST) + if *accidental { ACCIDENTAL } else { 0.0 };
    }
    width.max(EMPTY_BAR)
}
