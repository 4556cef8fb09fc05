//! Odd music that is read all the same, counted by kind: one remark a kind, with the place of the first.

use std::collections::BTreeMap;

use crate::remarks::{Remark, RemarkKind};

/// The kinds, in the order in which they are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Oddity {
    PartNotListed,
    PartWithoutMusic,
    PartTwice,
    StaffNotDeclared,
    UnequalParts,
    LabelsDiffer,
    MetresDiffer,
    Overfull,
    BackupBelowStart,
    NoDivisions,
    NoDuration,
    NoPitch,
    LostChord,
    BadNumber,
    RepeatSide,
    Repeats,
    Endings,
}

impl Oddity {
    fn kind(self) -> RemarkKind {
        match self {
            Self::PartNotListed | Self::PartWithoutMusic | Self::PartTwice | Self::StaffNotDeclared => {
                RemarkKind::Parts
            }
            _ => RemarkKind::Music,
        }
    }

    /// What was found `count` times.
    fn says(self, count: u64) -> String {
        let many = |one: &str, more: &str| if count == 1 { format!("1 {one}") } else { format!("{count} {more}") };
        match self {
            Self::PartNotListed => many("part has music but is not listed", "parts have music but are not listed"),
            Self::PartWithoutMusic => many("listed part has no music", "listed parts have no music"),
            Self::PartTwice => many("part comes twice", "parts come twice"),
            Self::StaffNotDeclared => many(
                "note on a staff that its part does not declare",
                "notes on staves that their part does not declare",
            ),
            Self::UnequalParts => many("part has fewer bars than the others", "parts have fewer bars than the others"),
            Self::LabelsDiffer => many(
                "bar is numbered differently in different parts",
                "bars are numbered differently in different parts",
            ),
            Self::MetresDiffer => many("metre differs between parts", "metres differ between parts"),
            Self::Overfull => many("bar holds more than its metre", "bars hold more than their metre"),
            Self::BackupBelowStart => {
                many("step back goes beyond the bar's start", "steps back go beyond their bar's start")
            }
            Self::NoDivisions => many(
                "duration stands before the file says what it counts",
                "durations stand before the file says what they count",
            ),
            Self::NoDuration => many("note has no duration", "notes have no duration"),
            Self::NoPitch => many("note has no pitch that can be read", "notes have no pitch that can be read"),
            Self::LostChord => many("chord note follows no note", "chord notes follow no note"),
            Self::BadNumber => many("number cannot be read", "numbers cannot be read"),
            Self::RepeatSide => many(
                "repeat stands on the wrong side of its bar and is passed over",
                "repeats stand on the wrong side of their bar and are passed over",
            ),
            Self::Repeats => many(
                "repeat does not make sense, so its bars count as played once",
                "repeats do not make sense, so their bars count as played once",
            ),
            Self::Endings => many(
                "ending is never closed or has no readable number",
                "endings are never closed or have no readable number",
            ),
        }
    }
}

#[derive(Debug)]
struct Found {
    count: u64,
    at: Option<usize>,
    first: String,
}

/// What was found in one file.
#[derive(Debug, Default)]
pub(super) struct Oddities {
    found: BTreeMap<Oddity, Found>,
    unread: BTreeMap<String, u64>,
}

impl Oddities {
    /// Counts one; `describe` names the place of the first ("bar 7 of Oboe").
    pub fn add(&mut self, oddity: Oddity, at: Option<usize>, describe: impl FnOnce() -> String) {
        match self.found.get_mut(&oddity) {
            Some(found) => found.count += 1,
            None => {
                self.found.insert(oddity, Found { count: 1, at, first: describe() });
            }
        }
    }

    /// Counts an element that is not read.
    pub fn unread(&mut self, name: &str) {
        /// MusicXML itself has no more names; a file with more of them is not worth a list.
        const NAMES: usize = 400;
        let name = if self.unread.len() >= NAMES && !self.unread.contains_key(name) { "others" } else { name };
        match self.unread.get_mut(name) {
            Some(count) => *count += 1,
            None => {
                self.unread.insert(name.to_owned(), 1);
            }
        }
    }

    /// One remark a kind, then one an unread element; `place` finds line and column.
    pub fn into_remarks(self, input: u16, place: impl Fn(usize) -> (u32, u32)) -> Vec<Remark> {
        let odd = self.found.into_iter().map(|(oddity, found)| {
            let first = match (found.first.is_empty(), found.count) {
                (true, _) => String::new(),
                (false, 1) => format!(": {}", found.first),
                (false, _) => format!("; first: {}", found.first),
            };
            let remark = Remark::new(oddity.kind(), input, format!("{}{first}.", oddity.says(found.count)));
            match found.at.map(&place) {
                Some((line, column)) => remark.at(line, column),
                None => remark,
            }
        });
        let unread = self.unread.into_iter().map(|(name, count)| {
            let times = if count == 1 { "once".to_owned() } else { format!("{count} times") };
            Remark::new(RemarkKind::Unread, input, format!("\"{name}\" is not read; it stands in the file {times}."))
        });
        odd.chain(unread).collect()
    }
}
