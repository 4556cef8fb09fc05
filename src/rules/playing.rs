//! What players must do besides playing: breathe, change, divide, share.

mod change_too_quick;
mod divisi_left_open;
mod no_breath;
mod two_players_on_one_part;

pub(super) use change_too_quick::ChangeTooQuick;
pub(super) use divisi_left_open::DivisiLeftOpen;
pub(super) use no_breath::NoBreath;
pub(super) use two_players_on_one_part::TwoPlayersOnOnePart;
