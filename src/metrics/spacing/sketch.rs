//! Widths of bars that an outline only sketches.
//!
//! As wide as bars of open orchestral scores in which the busiest staff plays as much; what the others add in between
//! is in it, and so are accidentals. Fitted at forces from 0.6 to 1.6 on 359 passages of up to 16 bars of 18 scores
//! (16,000 quarters, most of them moderate or busy). Of the moderate and busy passages eight in ten are as wide within
//! about a fifth.

use super::Column;
use crate::score::{Busyness, Cell, Sketch};
use crate::units::{Fraction, Spaces};

/// What one quarter takes.
struct Quarter {
    /// Room that no force changes: accidentals, and columns that are at their rods at usual forces.
    stiff: f64,
    /// The rest at force 1, and when nothing yields any more.
    spring: f64,
    rod: f64,
}

fn quarter(busiest: Busyness) -> Quarter {
    let quarter = |stiff, spring, rod| Quarter { stiff, spring, rod };
    match busiest {
        // Too few open passages are so still: continued from the others.
        Busyness::Still => quarter(0.1, 2.6, 1.2),
        Busyness::Calm => quarter(0.3, 3.3, 1.5),
        Busyness::Moderate => quarter(0.6, 3.9, 2.5),
        Busyness::Busy => quarter(1.1, 4.6, 3.5),
        Busyness::VeryBusy => quarter(2.9, 5.0, 4.7),
    }
}

/// The whole bar as one column, and the room beside it; `None` where nobody is planned to play.
pub(in crate::metrics) fn column(cells: &[Cell], length: Fraction) -> Option<(Column, Spaces)> {
    let busiest = cells.iter().filter_map(|cell| cell.sketch.and_then(Sketch::busyness)).max()?;
    let Quarter { stiff, spring, rod } = quarter(busiest);
    let quarters = length.to_f64();
    Some((Column { spring: Spaces(spring * quarters), rod: Spaces(rod * quarters) }, Spaces(stiff * quarters)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn width(planned: &[Sketch], force: f64) -> Option<f64> {
        let cells: Vec<Cell> = planned.iter().map(|own| Cell { sketch: Some(*own), ..Cell::default() }).collect();
        let (column, room) = column(&cells, Fraction::new(4, 1).unwrap())?;
        Some(room.0 + (column.spring * force).max(column.rod).0)
    }

    /// Means of all passages of a class in open scores, at three forces.
    #[test]
    fn a_planned_bar_is_as_wide_as_bars_of_open_scores_that_are_as_busy() {
        let measured = [
            (Busyness::Calm, [2.58, 3.55, 4.54]),
            (Busyness::Moderate, [3.38, 4.53, 5.74]),
            (Busyness::Busy, [4.62, 5.68, 7.10]),
            (Busyness::VeryBusy, [7.53, 7.86, 9.19]),
        ];
        for (busyness, widths) in measured {
            for (force, of_a_quarter) in [0.7, 1.0, 1.3].into_iter().zip(widths) {
                let own = width(&[Sketch::Plays(busyness)], force).unwrap();
                assert!((own / (4.0 * of_a_quarter) - 1.0).abs() < 0.03, "{busyness:?} at {force}: {own}");
            }
        }
    }

    #[test]
    fn the_busiest_staff_makes_the_width_and_rests_make_none() {
        let busy = Sketch::Plays(Busyness::Busy);
        assert_eq!(width(&[busy, Sketch::Rests, Sketch::Plays(Busyness::Still)], 1.0), width(&[busy], 1.0));
        assert_eq!(width(&[Sketch::Rests], 1.0), None);
    }

    #[test]
    fn more_to_play_takes_more_room() {
        let widths = Busyness::ALL.map(|busyness| width(&[Sketch::Plays(busyness)], 1.0).unwrap());
        assert!(widths.is_sorted_by(|one, next| one < next), "{widths:?}");
    }
}
