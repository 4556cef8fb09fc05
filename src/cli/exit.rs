//! How a run ends: what stops it, in words, and the exit code.

use std::fmt;
use std::process::ExitCode;

/// How a run that worked ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Nothing to mend at or above the weight that was asked for.
    Clean,
    /// Something to mend.
    Findings,
}

/// Why a run could not do its work: every trouble that was met, not only the first.
#[derive(Debug)]
pub struct Failure(Vec<Trouble>);

/// One trouble, with what to do about it where there is something.
#[derive(Debug)]
pub struct Trouble {
    what: String,
    hint: Option<String>,
}

/// 0: nothing to mend; 1: something; 2: could not work.
#[must_use]
pub fn code(result: &Result<Outcome, Failure>) -> ExitCode {
    match result {
        Ok(Outcome::Clean) => ExitCode::SUCCESS,
        Ok(Outcome::Findings) => ExitCode::from(1),
        Err(_) => ExitCode::from(2),
    }
}

impl Trouble {
    /// `what` begins with the file it is about: "score.mxl:4:11: ...".
    #[must_use]
    pub fn new(what: impl Into<String>) -> Trouble {
        Trouble { what: what.into(), hint: None }
    }

    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Trouble {
        self.hint = Some(hint.into());
        self
    }
}

impl Failure {
    /// `Ok` when there was no trouble after all.
    pub fn unless_empty(troubles: Vec<Trouble>) -> Result<(), Failure> {
        if troubles.is_empty() { Ok(()) } else { Err(Failure(troubles)) }
    }
}

impl From<Trouble> for Failure {
    fn from(trouble: Trouble) -> Failure {
        Failure(vec![trouble])
    }
}

impl From<Vec<Trouble>> for Failure {
    fn from(troubles: Vec<Trouble>) -> Failure {
        Failure(troubles)
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|trouble| write!(f, "{trouble}"))
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "error: {}", self.what)?;
        self.hint.iter().try_for_each(|hint| writeln!(f, "hint: {hint}"))
    }
}
