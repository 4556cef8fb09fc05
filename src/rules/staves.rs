//! Sizes of staves and the room between them.

mod families_not_separated;
mod staff_heights_uneven;
mod staff_too_large;
mod staff_too_small;
mod staves_too_close;

pub(super) use families_not_separated::FamiliesNotSeparated;
pub(super) use staff_heights_uneven::StaffHeightsUneven;
pub(super) use staff_too_large::StaffTooLarge;
pub(super) use staff_too_small::StaffTooSmall;
pub(super) use staves_too_close::StavesTooClose;
