//! What can be wrong with guidelines: where it stands, what it is, how to mend it.

use std::fmt;

use thiserror::Error;

/// One trouble; its text reads "house.toml:14:3: no rule is called \"staff-to-small\"".
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{place}: {fault}")]
pub struct GuidelineError {
    pub place: Place,
    pub fault: Fault,
    pub hint: Option<String>,
}

/// All the troubles of one loading, in reading order; never empty.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub struct GuidelineErrors(pub Vec<GuidelineError>);

/// Where a trouble stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// A sheet by the caller's name for it; lines and columns (in characters) count from 1.
    Sheet { name: String, line: usize, column: usize },
    /// A change on the command line, as it was written.
    Change(String),
    /// The guideline set that was asked for.
    SetAskedFor,
}

#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Fault {
    /// Not TOML; the TOML reader's own words.
    #[error("{0}")]
    Syntax(String),
    #[error("no guideline set is called \"{0}\"")]
    UnknownSet(String),
    #[error("\"{0}\" is neither a guideline set nor a sheet at hand")]
    UnknownBase(String),
    #[error("a sheet cannot stand on itself: {0}")]
    Cycle(String),
    #[error("the sheets stand on two guideline sets, {0} and {1}")]
    TwoSets(String, String),
    #[error("no rule is called \"{0}\"")]
    UnknownRule(String),
    #[error("{rule} has no limit called \"{limit}\"")]
    UnknownLimit { rule: String, limit: String },
    #[error("\"{0}\" is no key of a limit")]
    UnknownKey(String),
    #[error("\"{0}\" is no severity")]
    UnknownSeverity(String),
    /// A value that does not fit its limit.
    #[error("{0}")]
    Misfit(String),
    /// Something else stands where a text or a table belongs.
    #[error("{0}")]
    WrongShape(String),
    /// A change that is not RULE.LIMIT=VALUE.
    #[error("not a change of a limit")]
    NotAChange,
}

/// A rule's code and its sheet do not agree: never the user's doing.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Mismatch {
    #[error("no rule sheet is called {0}")]
    NoSheet(String),
    #[error("the sheet of {rule} has no limit {limit}")]
    NoLimit { rule: String, limit: String },
    #[error("{rule}.{limit} is {found}, not {wanted}")]
    OtherUnit { rule: String, limit: String, found: &'static str, wanted: &'static str },
    #[error("{rule} leaves unread: {}", limits.join(", "))]
    LeftOver { rule: String, limits: Vec<String> },
}

impl Place {
    /// Sorts troubles as a reader meets them: the set, the sheets line by line, then the changes.
    pub(super) fn order(&self) -> (u8, &str, usize, usize) {
        match self {
            Place::SetAskedFor => (0, "", 0, 0),
            Place::Sheet { name, line, column } => (1, name, *line, *column),
            Place::Change(_) => (2, "", 0, 0),
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Sheet { name, line, column } => write!(f, "{name}:{line}:{column}"),
            Place::Change(change) => write!(f, "--set {change}"),
            Place::SetAskedFor => f.write_str("--for"),
        }
    }
}

impl fmt::Display for GuidelineErrors {
    /// One line each, its hint on the next.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (nth, error) in self.0.iter().enumerate() {
            let line_end = if nth == 0 { "" } else { "\n" };
            write!(f, "{line_end}{error}")?;
            if let Some(hint) = &error.hint {
                write!(f, "\nhint: {hint}")?;
            }
        }
        Ok(())
    }
}
