//! Reading music: every oddity of real files, every bad file, and open scores against an independent reading.

#[path = "reading/open_scores.rs"]
mod open_scores;
