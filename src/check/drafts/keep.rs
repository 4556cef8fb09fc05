//! Pages of the newest draft that can stay as they were printed.
use super::Draft;
use super::readers::PlayerPair;
use super::reprint::Reprint;
use crate::compare::Matched;

pub(super) fn keep(_: &Draft, _: &mut Draft, _: &Matched, _: &[PlayerPair], _: &mut [Reprint]) {}
