//! Music that does not add up, or that parts would inherit unfinished.

mod bar_not_filled;
mod bar_overfull;
mod bow_after_pizzicato;
mod entry_without_dynamic;
mod gathered;
mod hairpin_without_end;
mod mutes_never_off;
mod outside_the_range;
mod parts_of_unequal_length;
mod slur_without_end;
mod staves_named_alike;
mod tie_to_nothing;

pub(super) use bar_not_filled::BarNotFilled;
pub(super) use bar_overfull::BarOverfull;
pub(super) use bow_after_pizzicato::BowAfterPizzicato;
pub(super) use entry_without_dynamic::EntryWithoutDynamic;
pub(super) use hairpin_without_end::HairpinWithoutEnd;
pub(super) use mutes_never_off::MutesNeverOff;
pub(super) use outside_the_range::OutsideTheRange;
pub(super) use parts_of_unequal_length::PartsOfUnequalLength;
pub(super) use slur_without_end::SlurWithoutEnd;
pub(super) use staves_named_alike::StavesNamedAlike;
pub(super) use tie_to_nothing::TieToNothing;
