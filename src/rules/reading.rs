//! How much there is to read, and the conductor's page turns.

pub(super) mod conductor_turns_too_often;
pub(super) mod crowded_bar;
pub(super) mod crowded_page;
pub(super) mod risky_conductor_turn;
