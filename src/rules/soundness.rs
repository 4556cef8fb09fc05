//! Music that does not add up.

pub(super) mod bar_overfull;
pub(super) mod parts_of_unequal_length;
