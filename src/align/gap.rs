//! A changed passage: the pairs that are worth most together, in order.

use std::ops::Range;

use super::Step;

/// Larger passages are other music; their bars are paired from the start on.
const LARGEST: usize = 4_000_000;

/// Fills a gap between two anchors. A pair adds what it is `worth`, and `a_pair` whatever it is; one that adds less than
/// nothing is not made.
///
/// Exact, in time and memory of one byte for each pair of bars.
pub(super) fn fill(
    left: Range<usize>,
    right: Range<usize>,
    worth: &mut dyn FnMut(usize, usize) -> f64,
    a_pair: f64,
    steps: &mut Vec<Step>,
) {
    let (rows, columns) = (left.len(), right.len());
    if rows.saturating_mul(columns) > LARGEST {
        let both = rows.min(columns);
        steps.extend((0..both).map(|at| Step::Both(left.start + at, right.start + at)));
        steps.extend((left.start + both..left.end).map(Step::Left));
        steps.extend((right.start + both..right.end).map(Step::Right));
        return;
    }
    let ways = ways(&left, &right, worth, a_pair);
    let (mut row, mut column) = (0, 0);
    while row < rows || column < columns {
        let way = ways.get(row * (columns + 1) + column).copied().unwrap_or(Way::Left);
        match way {
            Way::Both if row < rows && column < columns => {
                steps.push(Step::Both(left.start + row, right.start + column));
                (row, column) = (row + 1, column + 1);
            }
            Way::Left if row < rows => {
                steps.push(Step::Left(left.start + row));
                row += 1;
            }
            _ if column < columns => {
                steps.push(Step::Right(right.start + column));
                column += 1;
            }
            _ => {
                steps.push(Step::Left(left.start + row));
                row += 1;
            }
        }
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Way {
    Both,
    Left,
    Right,
}

/// The way to the most that can still be had, from each pair of places on; row by row from the end, of which only the last
/// is needed for the next.
fn ways(
    left: &Range<usize>,
    right: &Range<usize>,
    worth: &mut dyn FnMut(usize, usize) -> f64,
    a_pair: f64,
) -> Vec<Way> {
    let (rows, columns) = (left.len(), right.len());
    let wide = columns + 1;
    let mut ways = vec![Way::Left; (rows + 1) * wide];
    let (mut below, mut own) = (vec![0.0_f64; wide + 1], vec![0.0_f64; wide + 1]);
    let at = |row: &[f64], column: usize| row.get(column).copied().unwrap_or_default();
    for row in (0..=rows).rev() {
        for column in (0..=columns).rev() {
            let mut best = if row < rows { (at(&below, column), Way::Left) } else { (0.0, Way::Right) };
            if column < columns && (row == rows || at(&own, column + 1) > best.0) {
                best = (at(&own, column + 1), Way::Right);
            }
            if row < rows && column < columns {
                let pair = worth(left.start + row, right.start + column);
                let both = at(&below, column + 1) + pair + a_pair;
                if pair + a_pair >= 0.0 && both >= best.0 {
                    best = (both, Way::Both);
                }
            }
            if let Some((value, way)) = own.get_mut(column).zip(ways.get_mut(row * wide + column)) {
                (*value, *way) = best;
            }
        }
        std::mem::swap(&mut below, &mut own);
    }
    ways
}
