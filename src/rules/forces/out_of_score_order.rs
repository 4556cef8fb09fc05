//! Families that do not stand in score order.

use crate::guidelines::{Guidelines, Mismatch, Weight};
use crate::place::{PageIdx, PartId, Place, StaffId};
use crate::rules::{Case, Finding, Outcome, Rule, Scope};
use crate::score::Family;
use crate::words::listed;

/// Woodwind, brass, percussion, harp and keyboards, voices, strings.
pub(in crate::rules) struct OutOfScoreOrder {
    weight: Weight,
}

impl Rule for OutOfScoreOrder {
    const NAME: &'static str = "out-of-score-order";
    const SERVES_OUTLINES: bool = true;

    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch> {
        guidelines.read(Self::NAME, |limits| Ok(OutOfScoreOrder { weight: limits.weight() }))
    }

    fn check(&self, case: &Case<'_>) -> Outcome {
        let ids = (0..case.score.parts.len()).filter_map(|at| u16::try_from(at).ok()).map(PartId);
        let mut parts: Vec<(PartId, Family)> = ids.filter_map(|id| Some((id, case.place_in_order(id)?))).collect();
        leave_out_voices_among_strings(&mut parts);
        let strays = strays(&parts);
        let staves: Vec<StaffId> = strays.iter().filter_map(|part| case.score.staves_of(*part).next()).collect();
        let Some(first) = staves.first().copied() else { return Outcome::Ran(Vec::new()) };
        let names = listed(staves.iter().map(|staff| case.staff_words(*staff)));
        let verb = if staves.len() == 1 { "stands" } else { "stand" };
        let message = format!("{} {verb} where a conductor looks for another family.", names);
        let place = Place { staves, ..case.on_page(PageIdx(0)) };
        let finding = Finding::unlimited(self.weight, case.key(Self::NAME, Scope::Work, Some(first), None), names)
            .asks("woodwind, brass, percussion, harp and keyboards, soloists and voices, strings")
            .at(vec![place])
            .says(message);
        Outcome::Ran(vec![finding])
    }
}

/// Older scores put voices between the violas and the lowest strings, and conductors know that place, too.
fn leave_out_voices_among_strings(parts: &mut Vec<(PartId, Family)>) {
    let is_string = |(_, family): &(PartId, Family)| *family == Family::Strings;
    let (first, last) = (parts.iter().position(is_string), parts.iter().rposition(is_string));
    if let Some((first, last)) = first.zip(last) {
        let mut at = 0..;
        parts.retain(|(_, family)| {
            let among = at.next().is_some_and(|at| first < at && at < last);
            !(among && *family == Family::Voices)
        });
    }
}

/// The fewest parts that would have to move.
fn strays(parts: &[(PartId, Family)]) -> Vec<PartId> {
    // Longest run of parts in order that ends at each part, with the part before it in that run.
    let mut runs: Vec<(usize, Option<usize>)> = Vec::with_capacity(parts.len());
    for (_, family) in parts {
        let before = runs.iter().zip(parts).enumerate().filter(|(_, (_, (_, earlier)))| earlier <= family);
        let best = before.map(|(at, ((length, _), _))| (*length, at)).max_by_key(|(length, at)| (*length, *at));
        runs.push(best.map_or((1, None), |(length, at)| (length + 1, Some(at))));
    }
    let mut last = runs.iter().enumerate().max_by_key(|(at, (length, _))| (*length, *at)).map(|(at, _)| at);
    let mut in_order = vec![false; parts.len()];
    while let Some(at) = last {
        if let Some(mark) = in_order.get_mut(at) {
            *mark = true;
        }
        last = runs.get(at).and_then(|(_, before)| *before);
    }
    parts.iter().zip(in_order).filter(|(_, in_order)| !in_order).map(|((part, _), _)| *part).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stray_places(families: &[Family]) -> Vec<u16> {
        let parts: Vec<(PartId, Family)> = (0..).map(PartId).zip(families.iter().copied()).collect();
        strays(&parts).into_iter().map(|part| part.0).collect()
    }

    #[test]
    fn the_part_that_would_have_to_move_is_named_and_not_its_neighbours() {
        use Family::{Brass, Keyboard, Strings, Woodwind};
        assert_eq!(stray_places(&[Woodwind, Woodwind, Brass, Keyboard, Brass, Strings]), [3]);
        assert_eq!(stray_places(&[Strings, Woodwind, Woodwind, Brass]), [0]);
    }

    #[test]
    fn voices_between_violas_and_basses_stand_where_older_scores_put_them() {
        use Family::{Strings, Voices, Woodwind};
        let order = [Voices, Woodwind, Strings, Voices, Voices, Strings];
        let mut parts: Vec<(PartId, Family)> = (0..).map(PartId).zip(order).collect();
        leave_out_voices_among_strings(&mut parts);
        let left: Vec<u16> = parts.iter().map(|(part, _)| part.0).collect();
        assert_eq!(left, [0, 1, 2, 5]);
    }

    #[test]
    fn families_in_order_need_not_all_be_there() {
        assert!(stray_places(&[Family::Woodwind, Family::Strings, Family::Strings]).is_empty());
        assert!(stray_places(&[]).is_empty());
    }
}
