//! A fermata over any staff holds up everybody: who has none in that bar is given one.

use crate::place::BarIdx;
use crate::read::{Cursor, Element, elements};
use crate::score::Score;
use crate::units::Fraction;
use crate::write_parts::overhead::{divisions_of, ticks_of};
use crate::write_parts::tag;

/// Where the last fermata of a bar stands, over whichever staff.
pub(super) fn pause(score: &Score, bar: BarIdx) -> Option<Fraction> {
    let staves = score.staves.len();
    let cells = score.cells.get(bar.at() * staves..(bar.at() + 1) * staves).unwrap_or_default();
    cells.iter().flat_map(|cell| &cell.events).filter(|event| event.fermata).map(|event| event.onset).max()
}

/// The bar's content with a fermata over the note or rest that stands there; as it was where there is one already, or
/// nothing to put it over.
pub(super) fn with_pause(content: &str, divisions: i64, at: Fraction) -> String {
    let inside = elements(content);
    if inside.iter().any(|element| element.name == "note" && element.whole.contains("<fermata")) {
        return content.to_owned();
    }
    let Some(under) = under(&inside, divisions, at) else { return content.to_owned() };
    let mut out = String::with_capacity(content.len() + 64);
    for (nth, element) in inside.iter().enumerate() {
        out.push_str(element.before);
        match nth == under {
            true => out.push_str(&paused(element)),
            false => out.push_str(element.whole),
        }
    }
    out
}

/// Which element is the last note or rest that begins there or before.
fn under(inside: &[Element<'_>], divisions: i64, at: Fraction) -> Option<usize> {
    let mut cursor = Cursor::new();
    cursor.set_divisions(divisions);
    cursor.start_bar();
    let mut best: Option<(Fraction, usize)> = None;
    for (nth, element) in inside.iter().enumerate() {
        match element.name {
            "attributes" => {
                divisions_of(element).and_then(|divisions| cursor.set_divisions(divisions));
            }
            "backup" => {
                ticks_of(element).and_then(|ticks| cursor.back(ticks));
            }
            "forward" => {
                ticks_of(element).and_then(|ticks| cursor.advance(ticks));
            }
            "note" if element.child("chord").is_none() && element.child("grace").is_none() => {
                let now = cursor.now().unwrap_or(Fraction::ZERO);
                if now <= at && best.is_none_or(|(onset, _)| now >= onset) {
                    best = Some((now, nth));
                }
                ticks_of(element).and_then(|ticks| cursor.advance(ticks));
            }
            _ => {}
        }
    }
    best.map(|(_, nth)| nth)
}

/// Notations stand before what is sung, played and heard (MusicXML 4.0, note).
fn paused(note: &Element<'_>) -> String {
    const AFTER: [&str; 3] = ["lyric", "play", "listen"];
    const FERMATA: &str = "<notations><fermata type=\"upright\"/></notations>";
    let mut content = String::new();
    let mut is_written = false;
    for child in note.children() {
        if !is_written && AFTER.contains(&child.name) {
            content.push_str(FERMATA);
            is_written = true;
        }
        content.push_str(child.before);
        content.push_str(child.whole);
    }
    if !is_written {
        content.push_str(FERMATA);
    }
    tag::around(note.head, &content)
}
