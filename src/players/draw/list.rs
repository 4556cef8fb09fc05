//! A parts list: which staves make which part, where that is not left to the score.

use serde::Deserialize;
use toml::Spanned;

use super::{Reader, Share};
use crate::guidelines::nearest;
use crate::place::StaffId;
use crate::score::Score;

/// What a parts list says.
#[derive(Clone, Debug, Default)]
pub struct PartsList {
    entries: Vec<Entry>,
    /// Ends of the lines, to tell a place.
    line_ends: Vec<usize>,
}

/// Something in a parts list that cannot be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartsListError {
    /// Counted from 1.
    pub line: usize,
    pub what: String,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    #[serde(default)]
    part: Vec<Entry>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    name: Spanned<String>,
    /// "Piano" for all staves of that part of the score, "Piano, staff 2" for one of them.
    staves: Vec<Spanned<String>>,
    /// Which of the players who share the staff, from 1; where it is left out the part has everything on the staves.
    number: Option<usize>,
    copies: Option<u16>,
}

impl PartsList {
    /// # Errors
    /// The text is no TOML, or says something that a parts list cannot.
    pub fn parse(text: &str) -> Result<PartsList, Vec<PartsListError>> {
        let line_ends: Vec<usize> = text.match_indices('\n').map(|(at, _)| at).collect();
        let error = |at: usize, what: String| vec![PartsListError { line: line(&line_ends, at), what }];
        let written: Written = toml::from_str(text)
            .map_err(|wrong| error(wrong.span().map_or(0, |span| span.start), wrong.message().to_owned()))?;
        Ok(PartsList { entries: written.part, line_ends })
    }

    /// Puts what the list says in the place of what was found in the score. Entries that name no staves of the score
    /// are given back.
    pub(super) fn apply(&self, score: &Score, readers: &mut Vec<Reader>) -> Vec<PartsListError> {
        let mut unknown = Vec::new();
        for entry in &self.entries {
            match self.staves(entry, score) {
                Ok(staves) => put(entry, staves, readers),
                Err(error) => unknown.push(error),
            }
        }
        unknown
    }

    fn staves(&self, entry: &Entry, score: &Score) -> Result<Vec<StaffId>, PartsListError> {
        let mut staves = Vec::new();
        for wanted in &entry.staves {
            let named = named(wanted.get_ref(), score);
            if named.is_empty() {
                let names = score.parts.iter().map(|part| part.name.as_str());
                let hint = nearest(wanted.get_ref(), names)
                    .map_or(String::new(), |name| format!("; did you mean \"{name}\"?"));
                let what = format!("no staff of the score is called \"{}\"{hint}", wanted.get_ref());
                return Err(PartsListError { line: line(&self.line_ends, wanted.span().start), what });
            }
            staves.extend(named);
        }
        if staves.is_empty() {
            let what = format!("\"{}\" has no staves", entry.name.get_ref());
            return Err(PartsListError { line: line(&self.line_ends, entry.name.span().start), what });
        }
        staves.sort_unstable();
        staves.dedup();
        Ok(staves)
    }
}

/// The staves of a part by its name, or one of them by its key.
fn named(wanted: &str, score: &Score) -> Vec<StaffId> {
    let tidy = super::heading::tidy(wanted);
    let all = (0..score.staves.len()).map(|at| StaffId(at as u16));
    let by_part = |staff: &StaffId| score.part_of(*staff).is_some_and(|part| super::heading::tidy(&part.name) == tidy);
    let staves: Vec<StaffId> = all.clone().filter(by_part).collect();
    if staves.is_empty() { all.filter(|staff| score.staff_key(*staff) == tidy).collect() } else { staves }
}

fn put(entry: &Entry, staves: Vec<StaffId>, readers: &mut Vec<Reader>) {
    let covers = |reader: &Reader| reader.staves.iter().all(|staff| staves.contains(staff));
    let own = |reader: &Reader| {
        covers(reader)
            && entry.number.is_none_or(|number| reader.share.as_ref().is_none_or(|share| share.own + 1 == number))
    };
    let at = readers.iter().position(&own).unwrap_or(readers.len());
    let Some(known) = readers.get(at).or(readers.last()).cloned() else { return };
    let share = entry.number.and_then(|number| {
        let numbers = known.share.as_ref().map_or_else(|| vec![1, 2], |share| share.numbers.clone());
        number.checked_sub(1).filter(|own| *own < numbers.len()).map(|own| Share { own, numbers })
    });
    let part = known.part;
    let reader = Reader {
        name: entry.name.get_ref().clone(),
        part,
        staves: staves.clone(),
        hands: known.hands,
        share,
        copies: entry.copies.unwrap_or(1),
    };
    readers.retain(|reader| !own(reader));
    readers.insert(at.min(readers.len()), reader);
}

/// Counted from 1.
fn line(line_ends: &[usize], at: usize) -> usize {
    line_ends.partition_point(|end| *end < at) + 1
}
