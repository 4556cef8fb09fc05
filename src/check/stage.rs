//! The stages of a check, told to whoever watches: for timings and for showing progress.

/// A stage of the work, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Reading the files.
    Reading,
    /// Finding the pages.
    CastingOff,
    /// Trying other papers and staff heights.
    Comparing,
    /// Measuring music and pages.
    Surveying,
    /// Looking for better pages.
    Proposing,
    /// Holding parts against the score.
    Proofing,
    /// Holding one draft against another.
    Aligning,
    /// Holding them against the guidelines.
    Judging,
    /// Drawing the report and writing it out.
    Reporting,
}

/// Told when a stage begins; the stage before it has ended then.
pub trait Watch {
    fn begins(&mut self, stage: Stage);
}

/// Nobody watches.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Watch for Unwatched {
    fn begins(&mut self, _: Stage) {}
}

impl Stage {
    /// As `--timings` names it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Stage::Reading => "read",
            Stage::CastingOff => "cast-off",
            Stage::Comparing => "what-if",
            Stage::Surveying => "survey",
            Stage::Proposing => "propose",
            Stage::Proofing => "proof",
            Stage::Aligning => "compare",
            Stage::Judging => "judge",
            Stage::Reporting => "report",
        }
    }
}
