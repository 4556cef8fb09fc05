//! Findings that someone has looked at and accepted: kept beside the score as plain text, by their place in the music.
//!
//! An accepted finding does not come back while the music at its place stays the same. It is known again by rule,
//! staff, movement and bar, not by page: moved pages and a new export leave it accepted. When the notes at its place
//! change (for a finding about the whole work: the fact itself), or when the fault stands at more places than were
//! accepted, the acceptance lapses and says so.

use std::fmt;

use crate::rules::{Finding, Scope};
use crate::score::Score;

pub mod differences;
mod file;
mod fingerprint;

pub use file::{AcceptedError, HEADER};
pub use fingerprint::Fingerprint;

/// One accepted finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The rule's name.
    pub rule: String,
    pub scope: Scope,
    /// The staff as keys name it ("Flute 1, staff 1"); empty for none.
    pub staff: String,
    /// Movement, counted from 1; bar within it, counted from 0.
    pub anchor: Option<(u32, u32)>,
    /// Printed number of that bar, for the reader and in case that bars were put in before it.
    pub label: String,
    pub nth: u16,
    /// Of the music at the place, or of the fact.
    pub fingerprint: Fingerprint,
    /// How many places the finding had when it was accepted. Which places they were is not kept, since pages move.
    pub places: usize,
    /// Initials or name.
    pub who: String,
    /// A date, as the caller writes it.
    pub when: String,
    pub why: String,
}

/// What accepted findings made of all findings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Applied {
    /// Still to be dealt with, in their old order.
    pub kept: Vec<Finding>,
    /// Accepted, each with the entry that says so.
    pub accepted: Vec<(Finding, Entry)>,
    /// Entries that accept nothing any more.
    pub lapsed: Vec<(Entry, Lapse)>,
}

/// Why an entry accepts nothing any more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lapse {
    /// The finding is still there, but the music at its place is another.
    Changed,
    /// The fault stands at more places than were accepted.
    Spread,
    /// The finding is no longer made.
    Gone,
}

/// Reads a file of accepted findings.
///
/// # Errors
/// Everything that is wrong with it, with line numbers.
pub fn parse(text: &str) -> Result<Vec<Entry>, Vec<AcceptedError>> {
    file::parse(text)
}

/// Accepts a finding: the entry whose text goes to the end of the file.
#[must_use]
pub fn entry(finding: &Finding, score: &Score, who: &str, when: &str, why: &str) -> Entry {
    Entry {
        rule: finding.rule.to_owned(),
        scope: finding.key.scope,
        staff: finding.key.staff.clone(),
        anchor: finding.key.anchor,
        label: label(finding, score).to_owned(),
        nth: finding.key.nth,
        fingerprint: Fingerprint::of(finding, score),
        places: finding.places.len(),
        who: who.to_owned(),
        when: when.to_owned(),
        why: why.to_owned(),
    }
}

impl Entry {
    /// An entry for a finding that a report tells of by its key (`rule@scope/staff/anchor/nth`); `None` for what is no
    /// key.
    #[must_use]
    pub fn of_key(key: &str, label: &str, fingerprint: Fingerprint, places: usize) -> Option<Entry> {
        let (rule, rest) = key.split_once('@')?;
        let (scope, rest) = rest.split_once('/')?;
        let (rest, nth) = rest.rsplit_once('/')?;
        let (staff, anchor) = rest.rsplit_once('/')?;
        let anchor = match anchor.split_once(':') {
            Some((movement, bar)) => Some((movement.parse().ok()?, bar.parse().ok()?)),
            None => None,
        };
        Some(Entry {
            rule: rule.to_owned(),
            scope: Scope::of(scope)?,
            staff: staff.to_owned(),
            anchor,
            label: label.to_owned(),
            nth: nth.parse().ok()?,
            fingerprint,
            places,
            who: String::new(),
            when: String::new(),
            why: String::new(),
        })
    }
}

/// Sorts findings into those still to be dealt with and those accepted, and tells which entries have lapsed.
#[must_use]
pub fn apply(findings: Vec<Finding>, entries: &[Entry], score: &Score) -> Applied {
    let prints: Vec<Fingerprint> = findings.iter().map(|finding| Fingerprint::of(finding, score)).collect();
    let mut by_finding: Vec<Option<&Entry>> = vec![None; findings.len()];
    let mut moved: Vec<&Entry> = Vec::new();
    for entry in entries {
        let here = |(at, finding): &(usize, &Finding)| {
            entry.stands_at(finding) && prints.get(*at).is_some_and(|print| entry.covers(finding, *print))
        };
        match findings.iter().enumerate().find(here).and_then(|(at, _)| by_finding.get_mut(at)) {
            Some(place) => *place = Some(entry),
            None => moved.push(entry),
        }
    }
    let mut applied = Applied::default();
    for entry in moved {
        match sole_twin(entry, &findings, &prints, &by_finding).and_then(|at| by_finding.get_mut(at)) {
            Some(place) => *place = Some(entry),
            None => applied.lapsed.push((entry.clone(), why_not(entry, &findings, &prints))),
        }
    }
    for (finding, entry) in findings.into_iter().zip(by_finding) {
        match entry {
            Some(entry) => applied.accepted.push((finding, entry.clone())),
            None => applied.kept.push(finding),
        }
    }
    applied
}

/// Why an entry accepts none of the findings.
fn why_not(entry: &Entry, findings: &[Finding], prints: &[Fingerprint]) -> Lapse {
    let there = || findings.iter().zip(prints).filter(|(finding, _)| entry.stands_at(finding));
    if there().any(|(_, print)| *print == entry.fingerprint) {
        Lapse::Spread
    } else if there().next().is_some() {
        Lapse::Changed
    } else {
        Lapse::Gone
    }
}

/// The one finding that nobody else has accepted and that differs from the entry by its bar alone: bars were put in
/// or taken out before it. Where two would fit, none is taken.
fn sole_twin(entry: &Entry, findings: &[Finding], prints: &[Fingerprint], taken: &[Option<&Entry>]) -> Option<usize> {
    let mut twins = findings.iter().zip(prints).zip(taken).enumerate().filter(|(_, ((finding, print), taken))| {
        taken.is_none() && entry.is_kin_of(finding) && entry.covers(finding, **print)
    });
    let (at, _) = twins.next()?;
    twins.next().is_none().then_some(at)
}

impl Entry {
    fn stands_at(&self, finding: &Finding) -> bool {
        self.is_kin_of(finding) && self.anchor == finding.key.anchor && self.nth == finding.key.nth
    }

    /// Whether what was accepted is all that the finding is about.
    fn covers(&self, finding: &Finding, print: Fingerprint) -> bool {
        print == self.fingerprint && finding.places.len() <= self.places
    }

    /// The same fault of the same staff in the same movement, whatever the bar.
    fn is_kin_of(&self, finding: &Finding) -> bool {
        let movement = |anchor: Option<(u32, u32)>| anchor.map(|(movement, _)| movement);
        self.rule == finding.rule
            && self.scope == finding.key.scope
            && self.staff == finding.key.staff
            && movement(self.anchor) == movement(finding.key.anchor)
    }
}

/// The printed number of the bar that a finding hangs on.
fn label<'a>(finding: &Finding, score: &'a Score) -> &'a str {
    finding.key.anchor.and_then(|anchor| score.bar_at(anchor)).map_or("", |bar| score.label(bar))
}

impl fmt::Display for Lapse {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Lapse::Changed => "the music there has changed since",
            Lapse::Spread => "it stands at more places now",
            Lapse::Gone => "it is not found any more",
        })
    }
}

impl fmt::Display for Entry {
    /// As it stands in the file.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        file::write(self, f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_as_written_names_the_same_place() {
        let print = Fingerprint::read("0123456789abcdef").unwrap();
        let entry = Entry::of_key("audible-turn@bar/Flute 2/Piccolo/2:15/1", "16", print, 3).unwrap();
        assert_eq!(
            (entry.rule.as_str(), entry.scope, entry.staff.as_str()),
            ("audible-turn", Scope::Bar, "Flute 2/Piccolo")
        );
        assert_eq!((entry.anchor, entry.nth, entry.places), (Some((2, 15)), 1, 3));
        assert_eq!(Entry::of_key("x@work//-/0", "", print, 1).unwrap().anchor, None);
        for broken in ["", "x", "x@nowhere/a/1:2/0", "x@bar/a/1:b/0", "x@bar/a/1:2/z"] {
            assert_eq!(Entry::of_key(broken, "", print, 1), None, "{broken}");
        }
    }
}
