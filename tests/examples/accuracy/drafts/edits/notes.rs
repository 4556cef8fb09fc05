//! Small changes in single bars of single parts.

use std::ops::Range;

use super::super::seed::Seed;
use super::super::text::{Cut, attribute, elements, first, has, replaced, value, without};
use super::super::truth::{Edit, Edited, Truth};
use super::pitch::by_steps;

const KINDS: [Edit; 5] = [Edit::Pitch, Edit::Dynamic, Edit::Words, Edit::Articulation, Edit::Split];
/// What is written in: no open score has these words, and few these signs.
const DYNAMICS: [&str; 4] = ["sffz", "fffff", "ppppp", "sfpp"];
const WORDS: [&str; 3] = ["wie aus weiter Ferne", "like a distant bell", "quasi niente"];
const ARTICULATIONS: [&str; 3] = ["stress", "spiccato", "scoop"];

/// One to twenty bars, in each one to three of the parts that play there.
pub fn change(cut: &Cut, truth: &mut Truth, seed: &mut Seed) -> bool {
    let before = truth.edits.len();
    for _ in 0..seed.between(1, 20) {
        let bar = seed.below(cut.bars());
        let playing: Vec<usize> =
            (0..cut.parts.len()).filter(|part| !notes(cut.parts[*part].bars[bar]).is_empty()).collect();
        for _ in 0..seed.between(1, 3) {
            let Some(part) = playing.get(seed.below(playing.len())) else { break };
            if truth.is_edited(bar, *part) {
                continue;
            }
            let first = seed.below(KINDS.len());
            let kinds = (0..KINDS.len()).map(|nth| KINDS[(first + nth) % KINDS.len()]);
            let text = cut.parts[*part].bars[bar];
            if let Some((kind, text)) = kinds.into_iter().find_map(|kind| Some((kind, one(text, kind, seed)?))) {
                truth.edits.insert((bar, *part), Edited { kind, text });
            }
        }
    }
    truth.edits.len() > before
}

/// Notes that a player sees and plays: no rests, grace notes, cues or hidden ones, and of a chord its first.
fn notes(bar: &str) -> Vec<Range<usize>> {
    let plays = |range: &Range<usize>| {
        let note = &bar[range.clone()];
        let is_odd = ["rest", "grace", "cue", "chord"].iter().any(|name| has(note, name));
        !is_odd && attribute(note, "print-object") != Some("no")
    };
    elements(bar, "note").filter(plays).collect()
}

/// The bar with one change of a kind, where it has a note for it.
pub fn one(bar: &str, kind: Edit, seed: &mut Seed) -> Option<String> {
    let able: Vec<Range<usize>> = notes(bar).into_iter().filter(|note| is_fit(bar, note, kind)).collect();
    let note = able.get(seed.below(able.len()))?.clone();
    let text = &bar[note.clone()];
    let around = |new: String| format!("{}{new}{}", &bar[..note.start], &bar[note.end..]);
    let unused = |names: &[&'static str]| names.iter().copied().find(|name| !bar.contains(name));
    let staff = first(text, "staff").unwrap_or_default();
    let direction = |inside: String| {
        format!("<direction placement=\"below\"><direction-type>{inside}</direction-type>{staff}</direction>{text}")
    };
    Some(around(match kind {
        Edit::Pitch => {
            let steps = [-2, -1, 1, 2][seed.below(4)];
            let pitch = elements(text, "pitch").next()?;
            let new = by_steps(&text[pitch.clone()], steps);
            without(&format!("{}{new}{}", &text[..pitch.start], &text[pitch.end..]), "accidental")
        }
        Edit::Dynamic => direction(format!("<dynamics><{}/></dynamics>", unused(&DYNAMICS)?)),
        Edit::Words => direction(format!("<words>{}</words>", unused(&WORDS)?)),
        Edit::Articulation => {
            let sign = format!("<notations><articulations><{}/></articulations></notations>", unused(&ARTICULATIONS)?);
            let at = elements(text, "lyric").next().map_or(text.rfind("</note>")?, |lyric| lyric.start);
            format!("{}{sign}{}", &text[..at], &text[at..])
        }
        Edit::Split => split(text)?,
    }))
}

fn is_fit(bar: &str, note: &Range<usize>, kind: Edit) -> bool {
    let text = &bar[note.clone()];
    let next = elements(&bar[note.end..], "note").next().map(|range| &bar[note.end..][range]);
    let is_chord = next.is_some_and(|note| has(note, "chord"));
    match kind {
        Edit::Pitch => !is_chord && !has(text, "tie") && has(text, "pitch"),
        Edit::Split => {
            let plain = !["tie", "dot", "time-modification", "notations", "lyric"].iter().any(|name| has(text, name));
            plain && !is_chord && split(text).is_some()
        }
        Edit::Dynamic | Edit::Words | Edit::Articulation => true,
    }
}

/// A plain note as two of half its length.
fn split(note: &str) -> Option<String> {
    let shorter = match value(note, "type")? {
        "whole" => "half",
        "half" => "quarter",
        "quarter" => "eighth",
        "eighth" => "16th",
        _ => return None,
    };
    let length: u32 = value(note, "duration")?.parse().ok()?;
    if !length.is_multiple_of(2) {
        return None;
    }
    let half = replaced(note, "duration", |_| format!("<duration>{}</duration>", length / 2));
    let half = replaced(&half, "type", |_| format!("<type>{shorter}</type>"));
    let half = without(&half, "beam");
    let second = without(&half, "accidental");
    Some(half + &second)
}
