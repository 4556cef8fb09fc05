//! The guidelines pages are held against: a folder of rule sheets, guideline sets by purpose, a house's own
//! sheets, and single changes, merged key by key so that each value keeps its source.
//!
//! ```text
//! page-rules/*.toml < page-rules/sets/SET.toml < house sheets < changes on the command line
//! ```
//!
//! The writing of a value in its rule sheet fixes its unit; a later layer may change the value, never the
//! unit. A house sheet (and a set) reads
//!
//! ```toml
//! extends = "concert-roomy"
//!
//! [house]
//! score-papers = ["A3", "JIS B4"]
//!
//! [staff-too-small]
//! severity = "mend"
//! part-floor = "7.2 mm"
//! score-floor = { value = "4.2 mm", source = "our sheet for copyists, 2026" }
//! ```
//!
//! A rule reads its limits once, typed, and refuses to leave any unread:
//!
//! ```
//! use rastrum::guidelines::{Guidelines, Limit, Request};
//! use rastrum::units::Mm;
//!
//! struct NarrowBindingMargin {
//!     inner: Limit<Mm>,
//! }
//!
//! let guidelines = Guidelines::load(&Request::default()).map_err(|errors| errors.to_string())?;
//! let rule = guidelines
//!     .read("narrow-binding-margin", |limits| Ok(NarrowBindingMargin { inner: limits.take("inner")? }))
//!     .map_err(|mismatch| mismatch.to_string())?;
//! assert!(rule.inner.value > Mm(10.0));
//! # Ok::<(), String>(())
//! ```

use schemars::JsonSchema;
use serde::Serialize;

mod changes;
mod error;
mod house;
mod limit;
mod lines;
mod merge;
mod nearest;
mod sheet;
mod shipped;
mod stack;
mod table;
mod take;
mod value;

pub use error::{Fault, GuidelineError, GuidelineErrors, Mismatch, Place};
pub use house::{BarNumbering, ForcesStyle, HouseChoices, SilentStaves};
pub use limit::{Limit, SetIn, Source, Standing, Weight};
pub use nearest::nearest;
pub use sheet::{Document, Needs, RuleSheet, SheetValue};
pub use table::{limits_table, rules_table};
pub use take::Limits;
pub use value::{FromValue, Kind, Percent, Points, Times, Value};

/// The guideline set used when none is asked for.
pub const DEFAULT_SET: &str = "concert";

/// Which guidelines to load.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Request {
    /// A guideline set by name; it takes the place of the set that the house sheets stand on.
    pub set: Option<String>,
    /// House sheets, each laid over the one before and over what it extends.
    pub sheets: Vec<HouseSheet>,
    /// Single changes, `RULE.LIMIT=VALUE`, `RULE.severity=look` or `house.CHOICE=VALUE`.
    pub changes: Vec<String>,
}

/// A house's own sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HouseSheet {
    /// As messages and sources shall name it; another sheet's `extends` may name it too.
    pub name: String,
    /// TOML.
    pub text: String,
}

/// A guideline set as `rastrum rules` lists it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SetSummary {
    pub name: String,
    pub title: String,
    /// Whom it serves, and where its values come from.
    pub what: String,
}

/// The guidelines in force.
#[derive(Clone, Debug, PartialEq)]
pub struct Guidelines {
    set: String,
    rules: Vec<RuleSheet>,
    house_sheet: RuleSheet,
    house: HouseChoices,
}

impl Guidelines {
    /// Merges all layers.
    ///
    /// # Errors
    /// Every trouble in every layer, each with its place and, where one can be given, a hint.
    pub fn load(request: &Request) -> Result<Guidelines, GuidelineErrors> {
        merge::merge(request)
    }

    /// The guideline set in force.
    #[must_use]
    pub fn set(&self) -> &str {
        &self.set
    }

    /// Every rule, off or not, in the order a page is looked over.
    #[must_use]
    pub fn rules(&self) -> &[RuleSheet] {
        &self.rules
    }

    #[must_use]
    pub fn rule(&self, name: &str) -> Option<&RuleSheet> {
        self.rules.iter().find(|rule| rule.name == name)
    }

    /// The rule called most nearly `name`, for "did you mean".
    #[must_use]
    pub fn nearest_rule(&self, name: &str) -> Option<&str> {
        nearest(name, self.rules.iter().map(|rule| rule.name.as_str()))
    }

    /// The choices no single rule owns.
    #[must_use]
    pub fn house(&self) -> &HouseChoices {
        &self.house
    }

    /// The same with their meanings and sources, for listing.
    #[must_use]
    pub fn house_sheet(&self) -> &RuleSheet {
        &self.house_sheet
    }

    /// Builds a rule from its limits. The limits of another rule may be read the same way.
    ///
    /// # Errors
    /// The code and the rule sheet do not agree: a limit is missing, has another unit, or is left unread.
    pub fn read<T>(
        &self,
        rule: &str,
        build: impl FnOnce(&mut Limits<'_>) -> Result<T, Mismatch>,
    ) -> Result<T, Mismatch> {
        let sheet = self.rule(rule).ok_or_else(|| Mismatch::NoSheet(rule.to_owned()))?;
        let mut limits = Limits::of(sheet);
        let built = build(&mut limits)?;
        limits.finish()?;
        Ok(built)
    }
}

/// The shipped guideline sets, the default first.
///
/// # Errors
/// A shipped set does not parse (a test sees that each does).
pub fn sets() -> Result<Vec<SetSummary>, GuidelineErrors> {
    merge::set_summaries()
}
