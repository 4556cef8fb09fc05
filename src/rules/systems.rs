//! Systems on the page: room, dividers, bars a system, staves shown.

mod first_system_incomplete;
mod last_system_short;
mod line;
mod lone_bar_system;
mod one_hand_hidden;
mod page_overfull;
mod room_for_second_system;
mod staves_change_too_often;
mod system_divider_missing;
mod systems_too_close;
mod too_many_systems;
mod two_systems_though_cramped;

pub(super) use first_system_incomplete::FirstSystemIncomplete;
pub(super) use last_system_short::LastSystemShort;
pub(super) use lone_bar_system::LoneBarSystem;
pub(super) use one_hand_hidden::OneHandHidden;
pub(super) use page_overfull::PageOverfull;
pub(super) use room_for_second_system::RoomForSecondSystem;
pub(super) use staves_change_too_often::StavesChangeTooOften;
pub(super) use system_divider_missing::SystemDividerMissing;
pub(super) use systems_too_close::SystemsTooClose;
pub(super) use too_many_systems::TooManySystems;
pub(super) use two_systems_though_cramped::TwoSystemsThoughCramped;
