//! A changed passage: the pairs that are most alike together, in order.

use std::ops::Range;

use super::{Alike, Step};

/// A pair that has nothing in common still outweighs two bars without partners, and a pair that is somewhat alike is not
/// given up for two others unless they are more alike by this.
const A_PAIR: f64 = 0.6;

/// Larger passages are other music; their bars are paired from the start on.
const LARGEST: usize = 4_000_000;

/// Fills a gap between two anchors.
pub(super) fn fill(left: Range<usize>, right: Range<usize>, alike: &dyn Alike, steps: &mut Vec<Step>) {
    let (rows, columns) = (left.len(), right.len());
    if rows.saturating_mul(columns) > LARGEST {
        let both = rows.min(columns);
        steps.extend((0..both).map(|at| Step::Both(left.start + at, right.start + at)));
        steps.extend((left.start + both..left.end).map(Step::Left));
        steps.extend((right.start + both..right.end).map(Step::Right));
        return;
    }
    let best = best(&left, &right, alike);
    let (mut row, mut column) = (0, 0);
    while row < rows || column < columns {
        let step = best.get(row * (columns + 1) + column).map_or(Way::Left, |cell| cell.1);
        match step {
            Way::Both if row < rows && column < columns => {
                steps.push(Step::Both(left.start + row, right.start + column));
                (row, column) = (row + 1, column + 1);
            }
            Way::Right if column < columns => {
                steps.push(Step::Right(right.start + column));
                column += 1;
            }
            _ if row < rows => {
                steps.push(Step::Left(left.start + row));
                row += 1;
            }
            _ => {
                steps.push(Step::Right(right.start + column));
                column += 1;
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

/// Row by row: the most that can still be had from here, and the way to it.
fn best(left: &Range<usize>, right: &Range<usize>, alike: &dyn Alike) -> Vec<(f64, Way)> {
    let (rows, columns) = (left.len(), right.len());
    let wide = columns + 1;
    let mut best = vec![(0.0, Way::Left); (rows + 1) * wide];
    let had = |best: &[(f64, Way)], row: usize, column: usize| best.get(row * wide + column).map_or(0.0, |cell| cell.0);
    for row in (0..=rows).rev() {
        for column in (0..=columns).rev() {
            let mut own = (0.0, if row < rows { Way::Left } else { Way::Right });
            if row < rows {
                own = (had(&best, row + 1, column), Way::Left);
            }
            if column < columns && (row == rows || had(&best, row, column + 1) > own.0) {
                own = (had(&best, row, column + 1), Way::Right);
            }
            if row < rows && column < columns {
                let likeness = alike.likeness(left.start + row, right.start + column);
                let both = had(&best, row + 1, column + 1) + likeness + A_PAIR;
                if both >= own.0 {
                    own = (both, Way::Both);
                }
            }
            if let Some(cell) = best.get_mut(row * wide + column) {
                *cell = own;
            }
        }
    }
    best
}
