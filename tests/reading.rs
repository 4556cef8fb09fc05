//! Reading music: every oddity of real files, every bad file, and open scores against an independent reading.

#[path = "reading/bad_files.rs"]
mod bad_files;
#[path = "reading/dump.rs"]
mod dump;
#[path = "reading/encodings.rs"]
mod encodings;
#[path = "reading/moved_breaks.rs"]
mod moved_breaks;
#[path = "reading/movements.rs"]
mod movements;
#[path = "reading/mutants.rs"]
mod mutants;
#[path = "reading/odd_files.rs"]
mod odd_files;
#[path = "reading/open_scores.rs"]
mod open_scores;
#[path = "reading/outlines.rs"]
mod outlines;
#[path = "reading/proposed_breaks.rs"]
mod proposed_breaks;
#[path = "examples/accuracy/same_line.rs"]
mod same_line;
#[path = "reading/written_parts.rs"]
mod written_parts;
