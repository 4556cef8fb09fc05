//! Notes as they stand in the part.

use super::tag;
use crate::read::Element;

/// What of a note changes.
#[derive(Clone, Copy)]
pub(super) struct Change<'e, 'a> {
    /// Its staff in the part; `None` where the part has one only.
    pub staff: Option<u16>,
    /// It begins its chord, though it did not in the score.
    pub begins_chord: bool,
    /// Its bar had another player's notes on the same staves: stems told the two apart and rests stood out of the way.
    pub stands_free: bool,
    /// Notes of its chord that other players have. What stands at one of them may hold for the whole chord.
    pub others: &'e [Element<'a>],
}

/// A note element.
pub(super) fn changed(note: &Element<'_>, change: Change<'_, '_>) -> String {
    let own = note.children();
    let is_kept = |child: &&Element<'_>| match child.name {
        "chord" => !change.begins_chord,
        // Whether a chord is played or only shown is said by its first note.
        "cue" => !change.begins_chord || change.others.iter().any(|other| other.child("cue").is_some()),
        "stem" => !change.stands_free || !matches!(child.text().as_str(), "up" | "down"),
        "staff" => change.staff.is_some(),
        _ => true,
    };
    let mut parts: Vec<(usize, &str, String)> =
        own.iter().filter(is_kept).map(|child| (rank(child.name), child.before, of_note(child, change))).collect();
    let space = own.first().map_or("", |child| child.before);
    let inherited = inherited(&own, change.others);
    let is_changed = !inherited.is_empty();
    parts.extend(inherited.into_iter().map(|(name, text)| (rank(name), space, text)));
    if is_changed {
        parts.sort_by_key(|(rank, _, _)| *rank);
    }
    let mut content = String::with_capacity(note.whole.len());
    for (_, before, text) in &parts {
        content.push_str(before);
        content.push_str(text);
    }
    let end = note.inner.get(note.inner.trim_ascii_end().len()..).unwrap_or_default();
    // Its place was that of the score's spacing, which some programs count from the top of the system.
    tag::around(&tag::without(note.head, &["default-x", "default-y"]), &(content + end))
}

/// What a note takes over from others of its chord: what it has nothing of itself.
fn inherited<'a>(own: &[Element<'a>], others: &[Element<'a>]) -> Vec<(&'a str, String)> {
    let mut known: Vec<Kind<'a>> = own.iter().flat_map(kinds).collect();
    let mut inherited = Vec::new();
    for other in others {
        let mut new: Vec<Kind<'a>> = Vec::new();
        for child in other.children() {
            let is_free = |one: &Element<'a>| kinds(one).iter().all(|kind| !known.contains(kind));
            match child.name {
                "beam" | "lyric" if is_free(&child) => inherited.push((child.name, child.whole.to_owned())),
                "notations" => {
                    let inside = child.children();
                    let kept = inside.iter().filter(|one| !OF_ONE_NOTE.contains(&one.name) && is_free(one));
                    let kept: String = kept.map(|one| one.whole).collect();
                    if kept.is_empty() {
                        continue;
                    }
                    inherited.push((child.name, tag::around(child.head, &kept)));
                }
                _ => continue,
            }
            new.extend(kinds(&child));
        }
        known.extend(new);
    }
    inherited
}

/// Notations that join one notehead with another.
const OF_ONE_NOTE: [&str; 3] = ["tied", "glissando", "slide"];

/// What an element is, with its end where it runs from note to note.
type Kind<'a> = (&'a str, Option<&'a str>);

fn kinds<'a>(child: &Element<'a>) -> Vec<Kind<'a>> {
    match child.name {
        "notations" => child.children().iter().flat_map(kinds).collect(),
        "fermata" => vec![(child.name, None)],
        name => vec![(name, child.attribute("type"))],
    }
}

/// The note value of a note, for a rest of the same length.
pub(super) fn value_of(note: &Element<'_>) -> String {
    let is_value = |child: &Element<'_>| matches!(child.name, "type" | "dot" | "time-modification");
    note.children().into_iter().filter(is_value).map(|child| child.whole).collect()
}

fn of_note(child: &Element<'_>, change: Change<'_, '_>) -> String {
    match (child.name, change.staff) {
        ("staff", Some(staff)) => tag::around(child.head, &staff.to_string()),
        // Moved out of the way of another player's notes.
        ("rest", _) if change.stands_free && !child.inner.is_empty() => tag::around(child.head, ""),
        _ => child.whole.to_owned(),
    }
}

/// The order of what a note holds (MusicXML 4.0).
fn rank(name: &str) -> usize {
    const ORDER: [&str; 25] = [
        "grace",
        "cue",
        "chord",
        "pitch",
        "unpitched",
        "rest",
        "duration",
        "tie",
        "instrument",
        "footnote",
        "level",
        "voice",
        "type",
        "dot",
        "accidental",
        "time-modification",
        "stem",
        "notehead",
        "notehead-text",
        "staff",
        "beam",
        "notations",
        "lyric",
        "play",
        "listen",
    ];
    ORDER.iter().position(|known| *known == name).unwrap_or(ORDER.len())
}
