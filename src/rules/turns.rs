//! A player's page turns.

mod audible_turn;
mod on_pages;
mod printed;
mod rest_overleaf_unmarked;
mod rest_wasted_on_left_page;
mod tight_turn_unmarked;
mod turn_in_divisi;
mod turn_without_time;

pub(super) use audible_turn::AudibleTurn;
pub(super) use rest_overleaf_unmarked::RestOverleafUnmarked;
pub(super) use rest_wasted_on_left_page::RestWastedOnLeftPage;
pub(super) use tight_turn_unmarked::TightTurnUnmarked;
pub(super) use turn_in_divisi::TurnInDivisi;
pub(super) use turn_without_time::TurnWithoutTime;
