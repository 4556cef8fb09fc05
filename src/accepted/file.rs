//! The file of accepted findings: TOML, one `[[accepted]]` table each.

use std::fmt;
use std::ops::Range;

use serde::Deserialize;
use thiserror::Error;
use toml::Spanned;

use super::{Entry, Fingerprint};
use crate::rules::Scope;

/// What a new file begins with.
pub const HEADER: &str = "\
# Findings that someone has looked at and accepted. Each is known by its place in the music; when the notes there
# change, it comes back. Take an entry out to see its finding again.
";

/// Something in the file that cannot be read. Lines count from 1.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("line {line}: {what}")]
pub struct AcceptedError {
    pub line: usize,
    pub what: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Whole {
    #[serde(default)]
    accepted: Vec<Spanned<Written>>,
}

/// An entry as it is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Written {
    rule: String,
    scope: Spanned<String>,
    #[serde(default)]
    staff: String,
    movement: Option<u32>,
    /// Printed number.
    #[serde(default)]
    bar: String,
    /// Counted from 1 within the movement, whatever the printed numbers.
    bar_of_movement: Option<u32>,
    #[serde(default = "first")]
    occurrence: Spanned<u16>,
    music: Spanned<String>,
    #[serde(default = "one_place")]
    places: usize,
    who: Spanned<String>,
    when: Spanned<String>,
    why: Spanned<String>,
}

fn first() -> Spanned<u16> {
    Spanned::new(0..0, 1)
}

fn one_place() -> usize {
    1
}

pub(super) fn parse(text: &str) -> Result<Vec<Entry>, Vec<AcceptedError>> {
    let line = |at: Range<usize>| text.get(..at.start).map_or(1, |before| before.matches('\n').count() + 1);
    let whole: Whole = toml::from_str(text).map_err(|error| {
        vec![AcceptedError { line: line(error.span().unwrap_or_default()), what: error.message().trim().to_owned() }]
    })?;
    let mut faults = Vec::new();
    let mut entries = Vec::new();
    for written in whole.accepted {
        let span = written.span();
        let found = written.into_inner().read(span);
        match found {
            Ok(entry) => entries.push(entry),
            Err(wrong) => faults.extend(wrong.into_iter().map(|(at, what)| AcceptedError { line: line(at), what })),
        }
    }
    if faults.is_empty() { Ok(entries) } else { Err(faults) }
}

impl Written {
    fn read(self, whole: Range<usize>) -> Result<Entry, Vec<(Range<usize>, String)>> {
        let mut faults = Vec::new();
        let scope = Scope::of(self.scope.get_ref());
        if scope.is_none() {
            faults.push((self.scope.span(), "scope is one of work, page, system, bar".to_owned()));
        }
        let fingerprint = Fingerprint::read(self.music.get_ref());
        if fingerprint.is_none() {
            faults.push((self.music.span(), "music is a fingerprint of sixteen digits 0-9, a-f".to_owned()));
        }
        for (name, said) in [("who", &self.who), ("when", &self.when), ("why", &self.why)] {
            if said.get_ref().trim().is_empty() {
                faults.push((said.span(), format!("{name} is empty: an accepted finding tells who, when and why")));
            }
        }
        let nth = self.occurrence.get_ref().checked_sub(1);
        if nth.is_none() {
            faults.push((self.occurrence.span(), "occurrence counts from 1".to_owned()));
        }
        let anchor = match (self.movement, self.bar_of_movement) {
            (None, None) => Some(None),
            (Some(movement), Some(bar)) if movement > 0 && bar > 0 => Some(Some((movement, bar - 1))),
            _ => None,
        };
        if anchor.is_none() {
            let what = "movement and bar-of-movement stand together and count from 1";
            faults.push((whole, what.to_owned()));
        }
        let (Some(scope), Some(fingerprint), Some(nth), Some(anchor), true) =
            (scope, fingerprint, nth, anchor, faults.is_empty())
        else {
            return Err(faults);
        };
        Ok(Entry {
            rule: self.rule,
            scope,
            staff: self.staff,
            anchor,
            label: self.bar,
            nth,
            fingerprint,
            places: self.places,
            who: self.who.into_inner(),
            when: self.when.into_inner(),
            why: self.why.into_inner(),
        })
    }
}

pub(super) fn write(entry: &Entry, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    writeln!(f, "\n[[accepted]]")?;
    writeln!(f, "rule = {}", Quoted(&entry.rule))?;
    writeln!(f, "scope = {}", Quoted(entry.scope.word()))?;
    if !entry.staff.is_empty() {
        writeln!(f, "staff = {}", Quoted(&entry.staff))?;
    }
    if let Some((movement, bar)) = entry.anchor {
        writeln!(f, "movement = {movement}")?;
        writeln!(f, "bar = {}", Quoted(&entry.label))?;
        writeln!(f, "bar-of-movement = {}", u64::from(bar) + 1)?;
    }
    if entry.nth > 0 {
        writeln!(f, "occurrence = {}", u32::from(entry.nth) + 1)?;
    }
    writeln!(f, "music = \"{}\"", entry.fingerprint)?;
    if entry.places > 1 {
        writeln!(f, "places = {}", entry.places)?;
    }
    writeln!(f, "who = {}", Quoted(&entry.who))?;
    writeln!(f, "when = {}", Quoted(&entry.when))?;
    writeln!(f, "why = {}", Quoted(&entry.why))
}

/// A TOML basic string (TOML 1.0, "String").
struct Quoted<'a>(&'a str);

impl fmt::Display for Quoted<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("\"")?;
        for letter in self.0.chars() {
            match letter {
                '"' | '\\' => write!(f, "\\{letter}")?,
                '\n' => f.write_str("\\n")?,
                '\t' => f.write_str("\\t")?,
                control if control.is_control() => write!(f, "\\u{:04X}", u32::from(control))?,
                plain => write!(f, "{plain}")?,
            }
        }
        f.write_str("\"")
    }
}
