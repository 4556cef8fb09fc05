//! Signs at the notes: articulation, ornaments, slurs, sung text.

use std::collections::BTreeMap;

use super::side::{Both, Pairs, Side};
use super::words::beat;
use super::{Class, Proof};
use crate::score::{EventKind, Grace, SignKind, Signs};
use crate::units::Fraction;
use crate::words::all_listed;

/// What stands at one place in a bar.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct At {
    signs: Signs,
    tremolo: u8,
    arpeggio: bool,
    slur_starts: u8,
    slur_stops: u8,
    sung: Vec<(u8, String)>,
}

/// By onset, before it or on it, and staff where both sides have as many.
type Places = BTreeMap<(Fraction, bool, u8), At>;

/// What of a place is told, in words.
type InWords = fn(&At) -> Vec<String>;

/// Signs that players and leaders add themselves: more of them in the part are no fault. Common practice.
const ADDED: [&str; 7] = ["up-bow", "down-bow", "fingering", "string", "thumb-position", "open-string", "pluck"];

pub(super) fn compare(both: &Both<'_>, pairs: &Pairs, found: &mut Proof) {
    let added = ADDED.iter().fold(Signs::NONE, |all, name| all.and(Signs::named(name)));
    for pair in &pairs.both {
        if both.open(pair.0).is_some() {
            continue;
        }
        let by_staff = both.line.music.staves.len() == both.part.music.staves.len();
        let (line, mut part) = (places(&both.line, pair.0, by_staff), places(&both.part, pair.1, by_staff));
        for (place, own) in &mut part {
            let there = line.get(place).map_or(Signs::NONE, |at| at.signs);
            own.signs = own.signs.without(added.without(there));
        }
        if line == part {
            continue;
        }
        let kinds: [(Class, InWords); 4] = [
            (Class::Ornament, ornaments),
            (Class::Articulation, articulations),
            (Class::Slur, slurs),
            (Class::SungText, sung),
        ];
        for (class, of) in kinds {
            tell(both, *pair, class, &line, &part, of, found);
        }
    }
}

fn places(side: &Side<'_>, at: usize, by_staff: bool) -> Places {
    let mut places = Places::new();
    let events = side.heard.get(at).into_iter().flat_map(|heard| heard.events.iter().zip(&heard.staves));
    for ((event, _), staff) in events.filter(|((event, _), _)| matches!(event.kind, EventKind::Chord(_))) {
        let staff = if by_staff { *staff } else { 0 };
        let own = places.entry((event.onset, event.grace == Grace::No, staff)).or_default();
        own.signs = own.signs.and(event.signs);
        own.tremolo = own.tremolo.max(event.tremolo);
        own.arpeggio |= event.arpeggio;
        own.slur_starts = own.slur_starts.saturating_add(event.slurs.starts);
        own.slur_stops = own.slur_stops.saturating_add(event.slurs.stops);
        for syllable in &event.lyrics {
            own.sung.push((syllable.verse, syllable.text.clone()));
        }
    }
    for own in places.values_mut() {
        own.sung.sort();
        own.sung.dedup();
    }
    places
}

fn ornaments(at: &At) -> Vec<String> {
    let mut words: Vec<String> = at.signs.of(SignKind::Ornament).names().filter(|name| name != "tremolo").collect();
    match at.tremolo {
        0 if at.signs.of(SignKind::Ornament).names().any(|name| name == "tremolo") => words.push("tremolo".to_owned()),
        0 => {}
        strokes => words.push(format!("tremolo of {}", crate::words::counted(usize::from(strokes), "stroke"))),
    }
    if at.arpeggio {
        words.push("arpeggio".to_owned());
    }
    words
}

fn articulations(at: &At) -> Vec<String> {
    let technique = at.signs.of(SignKind::Technique);
    at.signs.of(SignKind::Articulation).and(technique).names().collect()
}

fn slurs(at: &At) -> Vec<String> {
    let count = |slurs: u8, word: &str| match slurs {
        0 => None,
        1 => Some(format!("slur {word}")),
        more => Some(format!("{more} slurs {word}")),
    };
    count(at.slur_starts, "begins").into_iter().chain(count(at.slur_stops, "ends")).collect()
}

fn sung(at: &At) -> Vec<String> {
    at.sung.iter().map(|(_, text)| format!("\"{text}\"")).collect()
}

/// What one side has and the other has not, as one line.
fn tell(
    both: &Both<'_>,
    pair: (usize, usize),
    class: Class,
    line: &Places,
    part: &Places,
    of: InWords,
    found: &mut Proof,
) {
    let only = |own: &Places, other: &Places| -> Vec<(Fraction, String)> {
        let mut only = Vec::new();
        for (place, at) in own {
            let there = other.get(place).map_or_else(Vec::new, of);
            only.extend(of(at).into_iter().filter(|word| !there.contains(word)).map(|word| (place.0, word)));
        }
        only
    };
    let (lost, extra) = (only(line, part), only(part, line));
    let Some(first) = lost.iter().chain(&extra).map(|(onset, _)| *onset).min() else { return };
    let words = |items: &[(Fraction, String)], side: &Side<'_>, at: usize| match items {
        [] => "nothing".to_owned(),
        _ => {
            let word = |(onset, word): &(Fraction, String)| format!("{word} on {}", beat(*onset, side.bar(at)));
            all_listed(&items.iter().map(word).collect::<Vec<_>>())
        }
    };
    let (score, own) = (words(&lost, &both.line, pair.0), words(&extra, &both.part, pair.1));
    found.differs(class, both.pair(pair, Some(first)), score, own);
}
