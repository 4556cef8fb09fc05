//! Findings: one cause, all its places, what to do.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::place::Place;

/// What a finding costs, from the dearest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Weight {
    /// Stops the rehearsal.
    Stop,
    /// Mend before the concert.
    Mend,
    /// Worth a look.
    Look,
}

impl Weight {
    /// As a musician reads it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Weight::Stop => "stops the rehearsal",
            Weight::Mend => "mend before the concert",
            Weight::Look => "worth a look",
        }
    }
}

/// One fault and all the places where its cause shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    pub key: Key,
    /// Name of the rule, as its sheet is called.
    pub rule: &'static str,
    pub weight: Weight,
    /// In reading order; at least one.
    pub places: Vec<Place>,
    /// "3.2 mm"; what was found, with its unit.
    pub found: String,
    /// "4 mm"; what the guideline asks for.
    pub limit: String,
    /// Where the limit comes from.
    pub source: String,
    /// One sentence that a musician understands without the rest.
    pub message: String,
    /// What to do, in one sentence.
    pub remedy: String,
}

/// Names a finding by its place in the music, so that it is known again when the pages have moved.
///
/// Written as text, `rule@scope/staff/anchor/nth`: accepted findings and drafts rest on it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Key {
    pub rule: &'static str,
    pub scope: Scope,
    /// Printed name of the (upper) staff's part and the staff's ordinal among equal names; empty for none.
    pub staff: String,
    /// Movement (from 1) and the bar within it (from 0), whichever bar the finding hangs on.
    pub anchor: Option<(u32, u32)>,
    /// Tells several findings of one rule at one place apart.
    pub nth: u16,
}

/// How far a finding reaches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scope {
    Work,
    Page,
    System,
    Bar,
}

impl std::fmt::Display for Key {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let scope = match self.scope {
            Scope::Work => "work",
            Scope::Page => "page",
            Scope::System => "system",
            Scope::Bar => "bar",
        };
        write!(f, "{}@{scope}/{}/", self.rule, self.staff)?;
        match self.anchor {
            Some((movement, bar)) => write!(f, "{movement}:{bar}")?,
            None => write!(f, "-")?,
        }
        write!(f, "/{}", self.nth)
    }
}
