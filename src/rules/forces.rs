//! Who stands where in the score: order, brackets, barlines, players on a staff.

mod barlines_not_grouped;
mod blocks;
mod family_bracket_missing;
mod out_of_score_order;
mod too_many_on_a_staff;

pub(super) use barlines_not_grouped::BarlinesNotGrouped;
pub(super) use family_bracket_missing::FamilyBracketMissing;
pub(super) use out_of_score_order::OutOfScoreOrder;
pub(super) use too_many_on_a_staff::TooManyOnAStaff;
