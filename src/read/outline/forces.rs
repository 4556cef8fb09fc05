//! Who there is to play: one entry for each line of the score.

use toml::Spanned;
use toml::de::DeValue;

use super::instruments;
use super::table::{Table, Told, Troubles, short, text};
use crate::limits::Limits;
use crate::read::error::ReadErrorKind;
use crate::read::family::family_of;
use crate::read::fold::fold;
use crate::score::Family;

const KEYS: [&str; 5] = ["name", "abbreviation", "players", "staves", "family"];

/// Most players that share a line.
const MOST_PLAYERS: u32 = 24;

/// One line of the forces: a part of the score.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Force {
    /// As printed, with the numbers of its players: "Horn 1, 2".
    pub name: String,
    /// The same, made comparable.
    pub folded: String,
    pub abbreviation: String,
    pub family: Family,
    pub staves: u16,
}

/// All that there are.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Forces {
    /// In score order.
    pub all: Vec<Force>,
    /// Whether every entry could be read: otherwise a name may be missing that is not at fault.
    pub are_complete: bool,
}

/// Families as an outline names them.
pub(super) const FAMILIES: [(&str, &[Family]); 11] = [
    ("woodwind", &[Family::Woodwind]),
    ("woodwinds", &[Family::Woodwind]),
    ("brass", &[Family::Brass]),
    ("winds", &[Family::Woodwind, Family::Brass]),
    ("percussion", &[Family::Percussion]),
    ("keyboard", &[Family::Keyboard]),
    ("keyboards", &[Family::Keyboard]),
    ("voices", &[Family::Voices]),
    ("strings", &[Family::Strings]),
    ("other", &[Family::Unknown]),
    ("others", &[Family::Unknown]),
];

/// Reads all forces; those that are wrong are left out, and told.
pub(super) fn read(root: &Table<'_>, limits: &Limits, troubles: &mut Troubles) -> Forces {
    let items = root.items("forces", troubles);
    if items.len() > limits.parts {
        troubles.push(ReadErrorKind::TooMany { what: "parts", limit: limits.parts }.into());
        return Forces::default();
    }
    let most_staves = u32::try_from(limits.staves_per_part).unwrap_or(u32::MAX);
    let mut read: Vec<Numbered> = Vec::with_capacity(items.len());
    for item in items {
        if let Some((force, players)) = force(item, most_staves, troubles) {
            let own = numbered(force, players, &read);
            read.push(own);
        }
    }
    let all: Vec<Force> = read.into_iter().map(|own| own.force).collect();
    Forces { are_complete: !items.is_empty() && all.len() == items.len(), all }
}

/// A force, its name as written, in small letters, and the number of its last player.
struct Numbered {
    force: Force,
    bare: String,
    last: u32,
}

/// A name alone, or a table; with the number of players where it tells.
fn force(item: &Spanned<DeValue<'_>>, most_staves: u32, troubles: &mut Troubles) -> Option<(Force, Option<u32>)> {
    let at = item.span().start;
    let table = match item.get_ref() {
        DeValue::String(_) => {
            let name = text("name", item, troubles)?;
            let family = known(&name, troubles)?;
            return Some((new(name.value, family, None), None));
        }
        DeValue::Table(table) => Table::of(table, at, "an entry of the forces", &KEYS, troubles),
        _ => {
            troubles.add(at, "an entry of the forces must be a name or a table", "write name = \"Flute\"");
            return None;
        }
    };
    let name = table.text("name", troubles);
    let abbreviation = table.text("abbreviation", troubles).map(|told| told.value).unwrap_or_default();
    let family = family(&table, name.as_ref(), troubles);
    let players = table.whole("players", 1..=MOST_PLAYERS, troubles);
    let staves = table.whole("staves", 1..=most_staves, troubles).map(|told| told.value);
    if !table.has("name") || name.as_ref().is_some_and(|name| name.value.is_empty()) {
        troubles.add(at, "an entry of the forces has no name", "write name = \"Flute\"");
    }
    let (name, family) = (name?, family?);
    if let (Some(players), Family::Strings | Family::Voices) = (&players, family) {
        let hint = "strings and voices are counted as sections: leave out \"players\"";
        troubles.add(players.at, format!("\"{}\" has no number of players", short(&name.value)), hint);
    }
    Some((Force { abbreviation, ..new(name.value, family, staves) }, players.map(|told| told.value)))
}

fn new(name: String, family: Family, staves: Option<u32>) -> Force {
    // A keyboard or a harp is written on two staves (common practice).
    let staves = staves.unwrap_or(if family == Family::Keyboard { 2 } else { 1 });
    let staves = u16::try_from(staves).unwrap_or(1);
    Force { name, folded: String::new(), abbreviation: String::new(), family, staves }
}

/// `None` where it is wrong; that is told.
fn family(table: &Table<'_>, name: Option<&Told<String>>, troubles: &mut Troubles) -> Option<Family> {
    if let Some(told) = table.text("family", troubles) {
        let named = FAMILIES.iter().find(|(word, families)| *word == told.value && families.len() == 1);
        let family = named.and_then(|(_, families)| families.first().copied());
        if family.is_none() {
            let what = format!("no family is called \"{}\"", short(&told.value));
            troubles.add(told.at, what, "one of woodwind, brass, percussion, keyboard, voices, strings, other");
        }
        return family;
    }
    if table.has("family") { None } else { known(name?, troubles) }
}

/// The family of an instrument that the reader knows; tells of one that it does not.
fn known(name: &Told<String>, troubles: &mut Troubles) -> Option<Family> {
    let family = family_of(std::iter::empty(), std::iter::once(name.value.as_str()), &name.value);
    if family == Family::Unknown {
        let near =
            instruments::near(&name.value).map_or_else(String::new, |near| format!(": did you mean \"{near}\"?"));
        let what = format!("the instrument \"{}\" is not known{near}", short(&name.value));
        troubles.add(name.at, what, "write its name in full, or say family = \"percussion\" (any family) beside it");
        return None;
    }
    Some(family)
}

/// "Horn" of two players is "Horn 1, 2", the next "Horn" of two "Horn 3, 4"; a name with numbers of its own stays, and
/// so does one that says nothing of its players.
fn numbered(mut force: Force, players: Option<u32>, before: &[Numbered]) -> Numbered {
    let bare = force.name.to_lowercase();
    let from = before.iter().filter(|other| other.bare == bare).map(|other| other.last).max().unwrap_or(0);
    let last = from.saturating_add(players.unwrap_or(0));
    let says_itself = force.name.chars().any(|c| c.is_ascii_digit());
    if last > from && last > 1 && !says_itself {
        let numbers: Vec<String> = (from + 1..=last).map(|number| number.to_string()).collect();
        force.name = format!("{} {}", force.name, numbers.join(", "));
    }
    force.folded = fold(&force.name);
    Numbered { force, bare, last }
}
