//! What of a stretch of time is not covered by others.

use crate::units::Fraction;

/// From, to, in quarters since the bar began.
pub(super) type Stretch = (Fraction, Fraction);

/// The stretches of `whole` that none of `covered` holds, in order.
pub(super) fn uncovered(whole: Stretch, covered: &[Stretch]) -> Vec<Stretch> {
    let mut left = vec![whole];
    // Grace notes take no time.
    for (from, to) in covered.iter().filter(|(from, to)| from < to) {
        left = left
            .into_iter()
            .flat_map(|(start, end)| [(start, end.min(*from)), (start.max(*to), end)])
            .filter(|(start, end)| start < end)
            .collect();
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_others_cover_is_taken_out() {
        let stretch = |from, to| (Fraction::whole(from), Fraction::whole(to));
        assert_eq!(uncovered(stretch(0, 4), &[stretch(1, 2)]), [stretch(0, 1), stretch(2, 4)]);
        assert_eq!(uncovered(stretch(2, 3), &[stretch(0, 2), stretch(3, 4)]), [stretch(2, 3)]);
        assert_eq!(uncovered(stretch(2, 3), &[stretch(0, 4)]), []);
        assert_eq!(uncovered(stretch(0, 4), &[stretch(1, 1)]), [stretch(0, 4)]);
    }
}
