//! A limit: a value, where it comes from, and how much it weighs to go beyond it.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How much a finding matters; ordered, the lightest first. A rule that is off has none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Weight {
    /// Worth a look.
    Look,
    /// Mend before the concert.
    Mend,
    /// Stops the rehearsal.
    Stop,
}

/// A limit as a rule uses it. `T` is its unit: [`Mm`](crate::units::Mm), [`Percent`](super::Percent), ...
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Limit<T> {
    pub value: T,
    pub source: Source,
    /// What a finding beyond this limit weighs: what the sheet or the user said, but no more than the
    /// source allows ([`Standing::heaviest`]).
    pub weight: Weight,
}

/// Who says so, and where it was set.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Source {
    /// Publication, edition and place; empty when a house sheet gives none.
    pub text: String,
    pub set_in: SetIn,
    pub standing: Standing,
}

/// The layer that set a value last.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SetIn {
    RuleSheet,
    /// A guideline set, by name.
    Set(String),
    /// A house sheet: its name as the caller gave it, and the line.
    HouseSheet {
        name: String,
        line: usize,
    },
    CommandLine,
}

/// How well a value is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// The publication itself was read.
    Published,
    /// The publication as another text quotes it.
    AsQuoted,
    /// Worked out from such values; the source says how.
    Derived,
    CommonPractice,
    FromMemory,
    /// A guideline set's value without a source.
    Unsourced,
    /// The house's own word.
    House,
}

impl Weight {
    /// The trade's words: "mend before the concert".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Weight::Stop => "stops the rehearsal",
            Weight::Mend => "mend before the concert",
            Weight::Look => "worth a look",
        }
    }

    /// The word of rule sheets and JSON: "mend".
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Weight::Stop => "stop",
            Weight::Mend => "mend",
            Weight::Look => "look",
        }
    }
}

impl Source {
    /// A rule sheet's source, its standing told by its own words.
    pub(super) fn sheet(text: &str) -> Source {
        Source { text: text.to_owned(), set_in: SetIn::RuleSheet, standing: Standing::of(text) }
    }

    /// A guideline set's source; without one it is common practice at best.
    pub(super) fn set(set: &str, text: Option<&str>) -> Source {
        let set_in = SetIn::Set(set.to_owned());
        match text {
            Some(text) => Source { text: text.to_owned(), set_in, standing: Standing::of(text) },
            None => Source { text: "common practice".to_owned(), set_in, standing: Standing::Unsourced },
        }
    }

    pub(super) fn house(set_in: SetIn, text: Option<&str>) -> Source {
        Source { text: text.unwrap_or_default().to_owned(), set_in, standing: Standing::House }
    }
}

impl Standing {
    /// The heaviest weight a limit of this standing may give a finding. What nobody published is not
    /// grounds to stop a rehearsal; what is only remembered is worth a look; the house's word is law.
    #[must_use]
    pub fn heaviest(self) -> Weight {
        match self {
            Standing::Published | Standing::AsQuoted | Standing::Derived | Standing::House => Weight::Stop,
            Standing::CommonPractice => Weight::Mend,
            Standing::FromMemory | Standing::Unsourced => Weight::Look,
        }
    }

    /// Read off the words every sheet uses for it; the weakest word counts.
    fn of(text: &str) -> Standing {
        if text.contains("from memory") {
            Standing::FromMemory
        } else if text.contains("common practice") {
            Standing::CommonPractice
        } else if text.starts_with("derived") {
            Standing::Derived
        } else if text.contains("as quoted") {
            Standing::AsQuoted
        } else {
            Standing::Published
        }
    }
}

impl fmt::Display for Source {
    /// "MOLA 2017, p. 5, as quoted", "set in house.toml:14", "house sheet 2026 (set in house.toml:14)".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (&self.set_in, self.text.as_str()) {
            (SetIn::RuleSheet | SetIn::Set(_), text) => f.write_str(text),
            (set_in, "") => write!(f, "{set_in}"),
            (set_in, text) => write!(f, "{text} ({set_in})"),
        }
    }
}

impl fmt::Display for SetIn {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SetIn::RuleSheet => f.write_str("rule sheet"),
            SetIn::Set(name) => write!(f, "guideline set {name}"),
            SetIn::HouseSheet { name, line } => write!(f, "set in {name}:{line}"),
            SetIn::CommandLine => f.write_str("set on the command line"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_weakest_word_of_a_source_tells_how_well_it_is_known() {
        assert_eq!(Standing::of("MOLA (2017), p. 5, as quoted"), Standing::AsQuoted);
        assert_eq!(Standing::of("Metropole Orkest, score sheet"), Standing::Published);
        assert_eq!(Standing::of("derived from 1 arc minute, common practice"), Standing::CommonPractice);
        assert_eq!(Standing::of("common practice; the number from memory"), Standing::FromMemory);
    }

    #[test]
    fn what_is_only_remembered_never_weighs_more_than_a_look() {
        assert_eq!(Standing::FromMemory.heaviest(), Weight::Look);
        assert_eq!(Standing::Unsourced.heaviest(), Weight::Look);
        assert!(Weight::Look < Weight::Mend && Weight::Mend < Weight::Stop);
    }

    #[test]
    fn a_source_tells_where_the_house_set_it() {
        let set_in = SetIn::HouseSheet { name: "house.toml".to_owned(), line: 14 };
        assert_eq!(Source::house(set_in.clone(), None).to_string(), "set in house.toml:14");
        let said = Source::house(set_in, Some("house sheet 2026")).to_string();
        assert_eq!(said, "house sheet 2026 (set in house.toml:14)");
    }
}
