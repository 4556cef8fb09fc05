//! Who stands where in the score: order, brackets, barlines, players on a staff.

pub(super) mod barlines_not_grouped;
pub(super) mod family_bracket_missing;
pub(super) mod out_of_score_order;
pub(super) mod too_many_on_a_staff;
