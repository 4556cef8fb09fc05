//! Judging: one file a rule, each with its limits from the guidelines and its words.
//!
//! A rule sees the music, the pages and the survey, never MusicXML or PDF. What a document cannot tell is no fault:
//! the rule then says what it would have needed.

use crate::casting_off::Proposal;
use crate::casting_off::part::Stand;
use crate::guidelines::{Guidelines, Mismatch};
use crate::join::Fit;
use crate::layout::Layout;
use crate::players::Player;
use crate::players::blocks::Block;
use crate::players::end_to_end::EndToEnd;
use crate::players::turning::TurnPoint;
use crate::score::Score;
use crate::survey::{BackwardTurn, Survey, Turn};
use crate::units::Mm;

mod counting;
mod finding;
mod forces;
mod frame;
mod gaps;
mod orientation;
mod pages;
mod paper;
mod places;
mod playing;
mod printed;
mod reading;
mod room;
mod soundness;
mod staves;
mod systems;
mod turns;

pub use crate::guidelines::Weight;
pub use finding::{Finding, Key, Scope};
pub use frame::{Judged, judge, judge_drawn_part, judge_music};

use counting::*;
use forces::*;
use orientation::*;
use paper::*;
use playing::*;
use printed::*;
use reading::*;
use soundness::*;
use staves::*;
use systems::*;
use turns::*;

/// What a rule looks at.
#[derive(Clone, Copy, Debug)]
pub struct Case<'a> {
    pub score: &'a Score,
    pub layout: &'a Layout,
    pub survey: &'a Survey,
    /// Better pages to hold them against, where some were looked for.
    pub proposal: Option<&'a Proposal>,
    /// What is known of a player's part besides, where it is one.
    pub part: Option<PartCase<'a>>,
    /// How its pages fit the music, where they are printed ones.
    pub fit: Option<&'a Fit>,
    /// Paper that it will be printed on, when the user says so; pages are scaled to fit it.
    pub print_on: Option<PrintOn<'a>>,
}

/// A player's part with its turns and its way from end to end.
#[derive(Clone, Copy, Debug)]
pub struct PartCase<'a> {
    pub player: &'a Player,
    /// The full score that it belongs to.
    pub orchestra: &'a Score,
    /// What a printed line of it is made of, as it should be printed.
    pub blocks: &'a [Block],
    /// On the pages of the layout.
    pub turns: &'a [Turn],
    pub backward: &'a [BackwardTurn],
    /// One entry a bar.
    pub points: &'a [TurnPoint],
    pub whole: &'a EndToEnd,
    pub stand: &'a Stand,
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

    /// Whether a plan without notes tells enough for it: who there is, and in which order.
    const SERVES_OUTLINES: bool = false;

    /// Whether pages alone tell enough for it, without any music.
    const SERVES_PAGES: bool = false;

    /// Takes every limit of the rule sheet, and what it needs of the house's choices.
    fn with(guidelines: &Guidelines) -> Result<Self, Mismatch>;

    /// Holds one document against the limits.
    fn check(&self, case: &Case<'_>) -> Outcome;
}

/// What most rules need and an outline lacks.
const NOTES: &str = "the notes; this is an outline";

/// What most rules need and pages alone lack.
const MUSIC: &str = "the music: its MusicXML beside the PDF";

/// What rules on playing from a part need.
const PART: &str = "a player's part with its turns";

/// A rule in the list of all.
#[derive(Clone, Copy, Debug)]
pub struct Entry {
    pub name: &'static str,
    /// Reads the limits and checks.
    check: fn(&Case<'_>, &Guidelines) -> Result<Outcome, Mismatch>,
}

impl Entry {
    const fn of<R: Rule>() -> Entry {
        let check = |case: &Case<'_>, guidelines: &Guidelines| {
            let rule = R::with(guidelines)?;
            if case.score.is_outline() && !R::SERVES_OUTLINES {
                return Ok(Outcome::CouldNotRun(NOTES.to_owned()));
            }
            if case.score.is_unseen() && !R::SERVES_PAGES {
                return Ok(Outcome::CouldNotRun(MUSIC.to_owned()));
            }
            Ok(rule.check(case))
        };
        Entry { name: R::NAME, check }
    }
}

/// Every rule; those whose faults keep the music from being read at all stand first.
pub const RULES: &[Entry] = &[
    Entry::of::<PartsOfUnequalLength>(),
    Entry::of::<BarOverfull>(),
    Entry::of::<BarNotFilled>(),
    Entry::of::<BarsNotPrinted>(),
    Entry::of::<TurnWithoutTime>(),
    Entry::of::<TurnInDivisi>(),
    Entry::of::<StaffTooSmall>(),
    Entry::of::<PrintedSmaller>(),
    Entry::of::<FontNotEmbedded>(),
    Entry::of::<TwoPlayersOnOnePart>(),
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
    Entry::of::<TooManySystems>(),
    Entry::of::<MusicInMargin>(),
    Entry::of::<NarrowMargin>(),
    Entry::of::<PageSizesDiffer>(),
    Entry::of::<TextTooSmall>(),
    Entry::of::<CrowdedPage>(),
    Entry::of::<CrowdedBar>(),
    Entry::of::<ChangeTooQuick>(),
    Entry::of::<MultiBarRestNotSplit>(),
    Entry::of::<TooManyOnAStaff>(),
    Entry::of::<TightTurnUnmarked>(),
    Entry::of::<RestOverleafUnmarked>(),
    Entry::of::<AudibleTurn>(),
    Entry::of::<RestWastedOnLeftPage>(),
    Entry::of::<HardToCount>(),
    Entry::of::<CueEndsTooSoon>(),
    Entry::of::<CueCoversEntry>(),
    Entry::of::<CueNotWhatIsPlayed>(),
    Entry::of::<CueWrongKeyOrClef>(),
    Entry::of::<DivisiLeftOpen>(),
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
    Entry::of::<StaffTooLarge>(),
    Entry::of::<StaffLinesHeavy>(),
    Entry::of::<LoneBarSystem>(),
    Entry::of::<LastSystemShort>(),
    Entry::of::<NarrowBindingMargin>(),
    Entry::of::<UnusualPageSize>(),
    Entry::of::<LandscapePage>(),
    Entry::of::<RunningHeadMissing>(),
    Entry::of::<PageNumberMissing>(),
    Entry::of::<PageNumberMisplaced>(),
    Entry::of::<FrontPageIncomplete>(),
    Entry::of::<ColdEntry>(),
    Entry::of::<NoBreath>(),
    Entry::of::<TieToNothing>(),
    Entry::of::<HairpinWithoutEnd>(),
    Entry::of::<SlurWithoutEnd>(),
    Entry::of::<BowAfterPizzicato>(),
    Entry::of::<MutesNeverOff>(),
    Entry::of::<EntryWithoutDynamic>(),
    Entry::of::<StavesNamedAlike>(),
    Entry::of::<OutsideTheRange>(),
];

#[cfg(test)]
mod tests;
