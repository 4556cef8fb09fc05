//! What leads a player through silence: multi-bar rests, cues, entries after long silence.

mod cold_entry;
mod cue_covers_entry;
mod cue_ends_too_soon;
mod cue_not_what_is_played;
mod cue_wrong_key_or_clef;
mod cues;
mod hard_to_count;
mod multi_bar_rest_not_split;

pub(super) use cold_entry::ColdEntry;
pub(super) use cue_covers_entry::CueCoversEntry;
pub(super) use cue_ends_too_soon::CueEndsTooSoon;
pub(super) use cue_not_what_is_played::CueNotWhatIsPlayed;
pub(super) use cue_wrong_key_or_clef::CueWrongKeyOrClef;
pub(super) use hard_to_count::HardToCount;
pub(super) use multi_bar_rest_not_split::MultiBarRestNotSplit;
