//! The line of forces as it stands in catalogues and on front pages.

use super::{Forces, ForcesEntry, Instrument};
use crate::guidelines::ForcesStyle;
use crate::players::names::usual;
use crate::units::Seconds;

const WOOD: [Instrument; 4] = [Instrument::Flute, Instrument::Oboe, Instrument::Clarinet, Instrument::Bassoon];
const BRASS: [Instrument; 4] = [Instrument::Horn, Instrument::Trumpet, Instrument::Trombone, Instrument::Tuba];
const STRINGS: [Instrument; 5] =
    [Instrument::ViolinI, Instrument::ViolinII, Instrument::Viola, Instrument::Cello, Instrument::DoubleBass];

impl Forces {
    /// The line of forces, and how long the work is when that is known. "?" stands where the names of the parts do
    /// not tell a number; empty when there are no parts.
    #[must_use]
    pub fn line(&self, style: ForcesStyle, duration: Option<Seconds>) -> String {
        let forces = match style {
            ForcesStyle::Dotted => self.dotted(),
            ForcesStyle::Named => self.named(),
        };
        match duration {
            Some(duration) if !forces.is_empty() => format!("{forces}; about {}", in_fives(duration)),
            _ => forces,
        }
    }

    fn entry(&self, instrument: Instrument) -> Option<&ForcesEntry> {
        self.players.iter().find(|entry| entry.instrument == instrument)
    }

    fn dotted(&self) -> String {
        let group = |places: &[Instrument]| {
            let any = places.iter().any(|place| self.entry(*place).is_some());
            let counts = places.iter().map(|place| self.entry(*place).map_or_else(|| "0".to_owned(), dotted_count));
            any.then(|| counts.collect::<Vec<_>>().join("."))
        };
        let drums = [Instrument::Timpani, Instrument::Percussion].iter().filter_map(|own| self.entry(*own));
        let drums: Vec<String> = drums.map(|entry| numbered(entry, usual(entry.instrument))).collect();
        let named = |instrument| {
            let names = self.entry(instrument).map(|entry| grouped(&entry.others).join("."));
            names.filter(|names| !names.is_empty())
        };
        let groups = [
            group(&WOOD),
            self.entry(Instrument::Saxophone).map(|entry| numbered(entry, "sax")),
            group(&BRASS),
            (!drums.is_empty()).then(|| drums.join(".")),
            self.entry(Instrument::Harp).map(|entry| numbered(entry, "hp")),
            named(Instrument::Keyboard),
            named(Instrument::Soloist),
            named(Instrument::Voices),
            named(Instrument::Other),
            self.strings("str", |own| usual(own).to_owned()),
        ];
        groups.into_iter().flatten().collect::<Vec<_>>().join(" - ")
    }

    /// All five sections are "strings"; fewer are named.
    fn strings(&self, all: &str, name: impl Fn(Instrument) -> String) -> Option<String> {
        let present: Vec<Instrument> = STRINGS.into_iter().filter(|own| self.entry(*own).is_some()).collect();
        match present.len() {
            0 => None,
            5 => Some(all.to_owned()),
            _ => Some(present.into_iter().map(name).collect::<Vec<_>>().join(", ")),
        }
    }

    fn named(&self) -> String {
        let mut names: Vec<String> = Vec::new();
        for entry in self.players.iter().filter(|entry| !STRINGS.contains(&entry.instrument)) {
            if entry.instrument.is_named() {
                names.extend(grouped_by(&entry.others, long_name));
                continue;
            }
            if entry.players != Some(0) {
                names.push(named_count(entry));
            }
            names.extend(grouped_by(&entry.others, long_name));
        }
        names.extend(self.strings("strings", |own| long_name(usual(own))));
        names.join(", ")
    }
}

/// "2", "2(II=picc)", "2+picc"; players of another instrument of the kind follow a plus.
fn dotted_count(entry: &ForcesEntry) -> String {
    let others = grouped(&entry.others);
    let mut text = match entry.players {
        Some(0) if !others.is_empty() => String::new(),
        Some(players) => players.to_string(),
        None => "?".to_owned(),
    };
    if !entry.doublings.is_empty() {
        let doubling = |(player, name): &(Option<u32>, String)| match player {
            Some(player) => format!("{}={name}", roman(*player)),
            None => format!("={name}"),
        };
        let doublings: Vec<String> = entry.doublings.iter().map(doubling).collect();
        text = format!("{text}({})", doublings.join(","));
    }
    for other in others {
        if !text.is_empty() {
            text.push('+');
        }
        text.push_str(&other);
    }
    text
}

/// "timp", "2perc": one or an untold number goes unsaid.
fn numbered(entry: &ForcesEntry, name: &str) -> String {
    let count = match entry.players {
        Some(players) if players > 1 => players.to_string(),
        _ => String::new(),
    };
    format!("{count}{name}")
}

fn grouped(names: &[String]) -> Vec<String> {
    grouped_by(names, str::to_owned)
        .into_iter()
        .map(|name| name.replacen(' ', "", usize::from(starts_with_digit(&name))))
        .collect()
}

fn starts_with_digit(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit())
}

/// Equal names once, with their number before them where it is more than one.
fn grouped_by(names: &[String], word: impl Fn(&str) -> String) -> Vec<String> {
    let mut counts: Vec<(&String, usize)> = Vec::new();
    for name in names {
        match counts.iter_mut().find(|(known, _)| *known == name) {
            Some((_, count)) => *count += 1,
            None => counts.push((name, 1)),
        }
    }
    counts
        .into_iter()
        .map(|(name, count)| if count > 1 { format!("{count} {}", word(name)) } else { word(name) })
        .collect()
}

fn named_count(entry: &ForcesEntry) -> String {
    let (one, many) = full_name(entry.instrument);
    let mut text = match entry.players {
        Some(1) if matches!(entry.instrument, Instrument::Timpani | Instrument::Percussion) => one.to_owned(),
        Some(1) => format!("1 {one}"),
        Some(players) if entry.instrument == Instrument::Percussion => format!("{one} ({players} players)"),
        Some(players) => format!("{players} {many}"),
        None => many.to_owned(),
    };
    if !entry.doublings.is_empty() {
        let doubling = |(player, name): &(Option<u32>, String)| match player {
            Some(player) => format!("{} also {}", ordinal(*player), long_name(name)),
            None => format!("also {}", long_name(name)),
        };
        let doublings: Vec<String> = entry.doublings.iter().map(doubling).collect();
        text = format!("{text} ({})", doublings.join(", "));
    }
    text
}

fn full_name(instrument: Instrument) -> (&'static str, &'static str) {
    match instrument {
        Instrument::Flute => ("flute", "flutes"),
        Instrument::Oboe => ("oboe", "oboes"),
        Instrument::Clarinet => ("clarinet", "clarinets"),
        Instrument::Bassoon => ("bassoon", "bassoons"),
        Instrument::Saxophone => ("saxophone", "saxophones"),
        Instrument::Horn => ("horn", "horns"),
        Instrument::Trumpet => ("trumpet", "trumpets"),
        Instrument::Trombone => ("trombone", "trombones"),
        Instrument::Tuba => ("tuba", "tubas"),
        Instrument::Timpani => ("timpani", "timpani"),
        Instrument::Percussion => ("percussion", "percussion"),
        Instrument::Harp => ("harp", "harps"),
        _ => ("player", "players"),
    }
}

/// An abbreviation in full; other names stand as they are.
fn long_name(abbreviation: &str) -> String {
    let long = match abbreviation {
        "picc" => "piccolo",
        "afl" => "alto flute",
        "bfl" => "bass flute",
        "ca" => "english horn",
        "obdam" => "oboe d'amore",
        "obdacacc" => "oboe da caccia",
        "heck" => "heckelphone",
        "bhn" => "basset horn",
        "bcl" => "bass clarinet",
        "cbn" => "contrabassoon",
        "wtuba" => "Wagner tuba",
        "flhn" => "flugelhorn",
        "crt" => "cornet",
        "picctpt" => "piccolo trumpet",
        "oph" => "ophicleide",
        "sarr" => "sarrusophone",
        "bc" => "continuo",
        "hpd" => "harpsichord",
        "pf" => "piano",
        "cel" => "celesta",
        "org" => "organ",
        "harm" => "harmonium",
        "fl" => "flute",
        "ob" => "oboe",
        "cl" => "clarinet",
        "bn" => "bassoon",
        "hn" => "horn",
        "tpt" => "trumpet",
        "tbn" => "trombone",
        "S" => "soprano",
        "A" => "alto",
        "Mez" => "mezzo-soprano",
        "T" => "tenor",
        "Bar" => "baritone",
        "B" => "bass",
        "vn I" => "violin I",
        "vn II" => "violin II",
        "va" => "viola",
        "vc" => "violoncello",
        "db" => "double bass",
        other => other,
    };
    long.to_owned()
}

fn roman(number: u32) -> String {
    const NUMERALS: [&str; 12] = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII"];
    let at = number.checked_sub(1).and_then(|at| NUMERALS.get(at as usize));
    at.map_or_else(|| number.to_string(), |numeral| (*numeral).to_owned())
}

fn ordinal(number: u32) -> String {
    let ending = match (number % 10, number % 100) {
        (1, teens) if teens != 11 => "st",
        (2, teens) if teens != 12 => "nd",
        (3, teens) if teens != 13 => "rd",
        _ => "th",
    };
    format!("{number}{ending}")
}

/// A duration is an estimate: to the nearest five seconds, a fragment's to the second.
fn in_fives(duration: Seconds) -> Seconds {
    if duration < Seconds(10.0) {
        return duration;
    }
    Seconds((duration.0 / 5.0).round() * 5.0)
}
