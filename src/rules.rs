//! Judging: one file a rule, each with its limits from the guidelines and its words.
//!
//! A rule sees the music, the pages and the survey, never MusicXML or PDF. What a document cannot tell is no fault:
//! the rule then says what it would have needed.

use crate::casting_off::Proposal;
use crate::guidelines::{Guidelines, Mismatch};
use crate::layout::Layout;
use crate::score::Score;
use crate::survey::Survey;
use crate::units::Mm;

mod finding;
mod forces;
mod frame;
mod gaps;
mod orientation;
mod pages;
mod paper;
mod places;
mod reading;
mod room;
mod soundness;
mod staves;
mod systems;

pub use crate::guidelines::Weight;
pub use finding::{Finding, Key, Scope};
pub use frame::{Judged, judge};

use forces::*;
use orientation::*;
use paper::*;
use reading::*;
use soundness::*;
use staves::*;
use systems::*;

/// What a rule looks at.
#[derive(Clone, Copy, Debug)]
pub struct Case<'a> {
    pub score: &'a Score,
    pub layout: &'a Layout,
    pub survey: &'a Survey,
    /// Better pages to hold them against, where some were looked for.
    pub proposal: Option<&'a Proposal>,
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

/// A rule is its limits.
trait Rule: Sized {
    /// As its file and its rule sheet are called, with hyphens.
    const NAME: &'static str;

    /// Takes every limit of the rule sheet, and what it needs of the house's choices.
    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch>;

    /// Holds one document against the limits.
    fn check(&self, case: &Case<'_>) -> Outcome;
}

/// A rule in the list of all.
#[derive(Clone, Copy, Debug)]
pub struct Entry {
    pub name: &'static str,
    /// Reads the limits and checks.
    check: fn(&Case<'_>, &Guidelines) -> Result<Outcome, Mismatch>,
}

impl Entry {
    const fn of<R: Rule>() -> Entry {
        Entry { name: R::NAME, check: |case, guidelines| Ok(R::with(guidelines)?.check(case)) }
    }
}

/// Every rule; those whose faults keep the music from being read at all stand first.
pub const RULES: &[Entry] = &[
    Entry::of::<PartsOfUnequalLength>(),
    Entry::of::<BarOverfull>(),
    Entry::of::<StaffTooSmall>(),
    Entry::of::<PrintedSmaller>(),
    Entry::of::<NamesMissing>(),
    Entry::of::<BarNumbersMissing>(),
    Entry::of::<RehearsalMarksOutOfOrder>(),
    Entry::of::<FirstSystemIncomplete>(),
    Entry::of::<OneHandHidden>(),
    Entry::of::<PageOverfull>(),
    Entry::of::<StavesTooClose>(),
    Entry::of::<SystemsTooClose>(),
    Entry::of::<TwoSystemsThoughCramped>(),
    Entry::of::<SystemDividerMissing>(),
    Entry::of::<MusicInMargin>(),
    Entry::of::<NarrowMargin>(),
    Entry::of::<PageSizesDiffer>(),
    Entry::of::<CrowdedPage>(),
    Entry::of::<CrowdedBar>(),
    Entry::of::<TooManyOnAStaff>(),
    Entry::of::<RiskyConductorTurn>(),
    Entry::of::<ConductorTurnsTooOften>(),
    Entry::of::<RehearsalMarksFarApart>(),
    Entry::of::<RehearsalMarksByTheRuler>(),
    Entry::of::<TempoMarkNotRepeated>(),
    Entry::of::<TranspositionNotStated>(),
    Entry::of::<OutOfScoreOrder>(),
    Entry::of::<FamilyBracketMissing>(),
    Entry::of::<BarlinesNotGrouped>(),
    Entry::of::<FamiliesNotSeparated>(),
    Entry::of::<RoomForSecondSystem>(),
    Entry::of::<StavesChangeTooOften>(),
    Entry::of::<StaffHeightsUneven>(),
    Entry::of::<LoneBarSystem>(),
    Entry::of::<LastSystemShort>(),
    Entry::of::<NarrowBindingMargin>(),
    Entry::of::<UnusualPageSize>(),
    Entry::of::<LandscapePage>(),
    Entry::of::<RunningHeadMissing>(),
    Entry::of::<PageNumberMisplaced>(),
    Entry::of::<FrontPageIncomplete>(),
];
