//! Music that does not add up.

mod bar_overfull;
mod parts_of_unequal_length;

pub(super) use bar_overfull::BarOverfull;
pub(super) use parts_of_unequal_length::PartsOfUnequalLength;
