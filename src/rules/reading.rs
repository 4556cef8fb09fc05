//! How much there is to read, and the conductor's page turns.

mod conductor_turns_too_often;
mod crowded_bar;
mod crowded_page;
mod risky_conductor_turn;

pub(super) use conductor_turns_too_often::ConductorTurnsTooOften;
pub(super) use crowded_bar::CrowdedBar;
pub(super) use crowded_page::CrowdedPage;
pub(super) use risky_conductor_turn::RiskyConductorTurn;
