//! Judging: one file a rule, each with its limits from the guidelines and its words.
//!
//! A rule sees the music, the pages and the survey, never MusicXML or PDF.

use crate::layout::Layout;
use crate::score::Score;
use crate::survey::Survey;
use crate::units::Mm;

mod finding;

pub use finding::{Finding, Key, Scope, Weight};

/// What a rule looks at.
#[derive(Clone, Copy, Debug)]
pub struct Case<'a> {
    pub score: &'a Score,
    pub layout: &'a Layout,
    pub survey: &'a Survey,
    /// Paper that it will be printed on, when the user says so; pages are scaled to fit it.
    pub print_on: Option<PrintOn<'a>>,
}

/// Paper that pages will be printed on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintOn<'a> {
    pub name: &'a str,
    /// Width, height.
    pub size: (Mm, Mm),
}

/// What came of one rule.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It ran; no findings is a result, too.
    Ran(Vec<Finding>),
    /// What it would have needed, in words: "recorded margins".
    CouldNotRun(String),
}
