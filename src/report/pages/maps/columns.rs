//! Where blocks of words stand: beside their marks while they fit, in full columns when they do not.

use crate::geometry::Rect;
use crate::units::Mm;

/// White between two blocks.
pub const BETWEEN: Mm = Mm(2.4);

/// A block of words before it has its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    pub height: Mm,
    /// Where its top would stand best: level with its mark.
    pub near: Mm,
}

/// A block's place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    pub left: Mm,
    pub top: Mm,
}

/// Tops of the blocks that find room in one column, in their order; what is left over goes elsewhere.
///
/// When all fit, each stands as near to its mark as the others let it (the sum of squared distances is the least);
/// otherwise they fill the column from its top.
#[must_use]
pub fn beside(blocks: &[Block], column: &Rect) -> Vec<Spot> {
    let all: Mm = blocks.iter().map(|block| block.height + BETWEEN).sum::<Mm>() - BETWEEN;
    if all > column.height() {
        return fill(blocks, &[*column]);
    }
    // Seen from its place in a tight stack, every block wants the stack's top somewhere; these wishes may not
    // decrease downwards, so neighbours whose wishes do are pooled (isotonic regression).
    let mut pools: Vec<(Mm, usize)> = Vec::new();
    let mut offset = Mm::ZERO;
    for block in blocks {
        let mut pool = (block.near - offset, 1);
        while let Some(last) = pools.pop_if(|last| last.0 >= pool.0) {
            let count = last.1 + pool.1;
            pool = ((last.0 * last.1 as f64 + pool.0 * pool.1 as f64) / count as f64, count);
        }
        pools.push(pool);
        offset += block.height + BETWEEN;
    }
    let lowest = column.bottom - all;
    let tops = pools.iter().flat_map(|(top, count)| std::iter::repeat_n(*top, *count));
    let mut offset = Mm::ZERO;
    tops.zip(blocks)
        .map(|(top, block)| {
            let spot = Spot { left: column.left, top: top.min(lowest).max(column.top) + offset };
            offset += block.height + BETWEEN;
            spot
        })
        .collect()
}

/// Places of the blocks that find room in the columns, filled one after the other.
///
/// A block higher than a whole column gets one for itself, so that nothing is ever left out for good.
#[must_use]
pub fn fill(blocks: &[Block], columns: &[Rect]) -> Vec<Spot> {
    let mut spots = Vec::new();
    let mut columns = columns.iter();
    let Some(mut column) = columns.next() else { return spots };
    let mut top = column.top;
    for block in blocks {
        while top + block.height > column.bottom && top > column.top {
            let Some(next) = columns.next() else { return spots };
            (column, top) = (next, next.top);
        }
        spots.push(Spot { left: column.left, top });
        top += block.height + BETWEEN;
    }
    spots
}

#[cfg(test)]
mod tests {
    use proptest::collection::vec;
    use proptest::prelude::*;

    use super::*;

    fn column() -> Rect {
        Rect::new(Mm(10.0), Mm(20.0), Mm(60.0), Mm(190.0))
    }

    fn block(height: f64, near: f64) -> Block {
        Block { height: Mm(height), near: Mm(near) }
    }

    #[test]
    fn a_lone_block_is_level_with_its_mark() {
        assert_eq!(beside(&[block(10.0, 55.0)], &column())[0].top, Mm(55.0));
    }

    #[test]
    fn blocks_of_marks_at_one_height_spread_to_both_sides() {
        let spots = beside(&[block(10.0, 100.0), block(10.0, 100.0)], &column());
        assert_eq!((spots[0].top, spots[1].top), (Mm(93.8), Mm(106.2)));
    }

    #[test]
    fn what_does_not_fit_is_left_for_other_columns() {
        let blocks = vec![block(30.0, 20.0); 8];
        assert_eq!(beside(&blocks, &column()).len(), 5);
        assert_eq!(fill(&blocks, &[column(), column()]).len(), 8);
    }

    #[test]
    fn a_block_higher_than_a_column_still_gets_a_place() {
        assert_eq!(fill(&[block(5.0, 0.0), block(400.0, 0.0)], &[column(), column()]).len(), 2);
    }

    proptest! {
        #[test]
        fn blocks_keep_their_order_and_never_overlap(wants in vec((3.0..20.0_f64, 0.0..250.0_f64), 1..30)) {
            let mut wants = wants;
            wants.sort_by(|one, other| one.1.total_cmp(&other.1));
            let blocks: Vec<Block> = wants.into_iter().map(|(height, near)| block(height, near)).collect();
            let spots = beside(&blocks, &column());
            for (at, spot) in spots.iter().enumerate() {
                prop_assert!(spot.top >= column().top - Mm(1e-9));
                prop_assert!(spot.top + blocks[at].height <= column().bottom + Mm(1e-9));
                if let Some(next) = spots.get(at + 1) {
                    prop_assert!(spot.top + blocks[at].height + BETWEEN <= next.top + Mm(1e-9));
                }
            }
        }
    }
}
