//! Findings: one cause, all its places, what to do.

use std::fmt;

use crate::guidelines::{Limit, Weight};
use crate::place::Place;
use crate::words::sentence;

/// One fault and all the places where its cause shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    pub key: Key,
    /// Name of the rule, as its sheet is called.
    pub rule: &'static str,
    pub weight: Weight,
    /// In reading order; at least one.
    pub places: Vec<Place>,
    /// Which of the places `message` tells of.
    pub worst: usize,
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
    /// Printed name of the (upper) staff's part and the staff's ordinal among equal names, or a player's name; empty for none.
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

impl Finding {
    /// Something beyond a limit, whose weight and source it takes.
    ///
    /// The remedy is left to the rule sheet unless [`Finding::with_remedy`] knows a better one.
    pub(super) fn beyond<T: fmt::Display>(limit: &Limit<T>, key: Key, found: impl Into<String>) -> Finding {
        let mut finding = Finding::unlimited(limit.weight, key, found);
        finding.limit = limit.value.to_string();
        finding.source = limit.source.to_string();
        finding
    }

    /// A fault that no figure limits; its source is the rule sheet's.
    pub(super) fn unlimited(weight: Weight, key: Key, found: impl Into<String>) -> Finding {
        Finding {
            rule: key.rule,
            key,
            weight,
            places: Vec::new(),
            worst: 0,
            found: found.into(),
            limit: String::new(),
            source: String::new(),
            message: String::new(),
            remedy: String::new(),
        }
    }

    pub(super) fn at(mut self, places: Vec<Place>) -> Finding {
        self.places = places;
        self
    }

    pub(super) fn worst_at(mut self, index: Option<usize>) -> Finding {
        self.worst = index.unwrap_or(0);
        self
    }

    /// With a capital, whatever the sentence begins with.
    pub(super) fn says(mut self, message: impl AsRef<str>) -> Finding {
        self.message = sentence(message.as_ref());
        self
    }

    pub(super) fn asks(mut self, limit: impl Into<String>) -> Finding {
        self.limit = limit.into();
        self
    }

    pub(super) fn with_remedy(mut self, remedy: impl Into<String>) -> Finding {
        self.remedy = remedy.into();
        self
    }
}

impl Scope {
    /// As keys and files write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Scope::Work => "work",
            Scope::Page => "page",
            Scope::System => "system",
            Scope::Bar => "bar",
        }
    }

    /// The scope of a [`Scope::word`].
    #[must_use]
    pub fn of(word: &str) -> Option<Scope> {
        [Scope::Work, Scope::Page, Scope::System, Scope::Bar].into_iter().find(|scope| scope.word() == word)
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}@{}/{}/", self.rule, self.scope.word(), self.staff)?;
        match self.anchor {
            Some((movement, bar)) => write!(f, "{movement}:{bar}")?,
            None => write!(f, "-")?,
        }
        write!(f, "/{}", self.nth)
    }
}
