//! Rules on small scores, read as any score is: each rule finds its fault, once, and is silent a hair before it.

#[path = "rules/accepted.rs"]
mod accepted;
#[path = "rules/fixtures.rs"]
mod fixtures;
#[path = "rules/frame.rs"]
mod frame;
#[path = "rules/part.rs"]
mod part;
#[path = "rules/quiet.rs"]
mod quiet;
#[path = "rules/sheets.rs"]
mod sheets;
#[path = "rules/wording.rs"]
mod wording;
