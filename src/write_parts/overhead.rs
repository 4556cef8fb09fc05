//! What is printed over one staff and said to all: marks and barlines of every part, to be copied to those that lack
//! them.

use super::source::{Source, SourcePart};
use super::tag;
use crate::read::{Cursor, Element, Ticks};
use crate::score::SystemMarkKind;
use crate::units::Fraction;

/// Of one file, bar by bar.
pub(super) struct Overhead<'a> {
    bars: Vec<OverBar<'a>>,
}

#[derive(Clone, Default)]
struct OverBar<'a> {
    directions: Vec<Direction<'a>>,
    /// Barlines, those of upper parts first.
    barlines: Vec<Element<'a>>,
}

#[derive(Clone)]
struct Direction<'a> {
    /// Of the file, and staff counted from 1.
    part: usize,
    staff: u16,
    onset: Fraction,
    element: Element<'a>,
}

/// What of a direction holds for all; the rest is of the staff that it stands over.
const FOR_ALL: [&str; 5] = ["rehearsal", "words", "metronome", "segno", "coda"];

impl<'a> Overhead<'a> {
    pub fn of(source: &Source<'a>) -> Overhead<'a> {
        let mut over = Overhead { bars: vec![OverBar::default(); source.bars()] };
        for (number, part) in source.parts.iter().enumerate() {
            over.add(number, part);
        }
        over
    }

    fn add(&mut self, number: usize, part: &SourcePart<'a>) {
        let mut cursor = Cursor::new();
        for (bar, over) in part.bars.iter().zip(&mut self.bars) {
            cursor.start_bar();
            for element in crate::read::elements(bar.inner) {
                match element.name {
                    "barline" => over.barlines.push(element),
                    "direction" => {
                        let now = cursor.now().unwrap_or(Fraction::ZERO);
                        let onset = offset(&element, &mut cursor).and_then(|by| now.checked_add(by)).unwrap_or(now);
                        let onset = onset.max(Fraction::ZERO);
                        let staff = staff_of(&element);
                        over.directions.push(Direction { part: number, staff, onset, element });
                    }
                    _ => step(&element, &mut cursor),
                }
            }
        }
    }

    /// The directions that say this for all over a staff of a part, without what they say for that staff alone. The
    /// words of a tempo and its metronome mark may stand in two.
    pub fn marks(
        &self,
        bar: usize,
        onset: Fraction,
        kind: &SystemMarkKind,
        (part, staff): (usize, u16),
    ) -> Vec<String> {
        let directions = self.bars.get(bar).map_or(&[][..], |over| &over.directions);
        let at = |one: &&Direction<'_>| (one.part, one.staff, one.onset) == (part, staff, onset);
        let says = |one: &&Direction<'_>| says(&one.element, kind);
        directions.iter().filter(at).filter(says).map(|one| for_all(&one.element)).collect()
    }

    /// The uppermost barline on this side of a bar that tells something; `paused` when it must bear a fermata.
    pub fn barline(&self, bar: usize, side: &str, paused: bool) -> Option<&'a str> {
        let telling = |line: &&Element<'_>| {
            let children = line.children();
            let name = |name: &str| children.iter().any(|child| child.name == name);
            let tells = ["repeat", "ending", "bar-style"].iter().any(|one| name(one));
            side_of(line) == side && (name("fermata") || (tells && !paused))
        };
        self.bars.get(bar)?.barlines.iter().find(telling).map(|line| line.whole)
    }
}

/// "left", "right" or "middle".
pub(super) fn side_of<'a>(barline: &Element<'a>) -> &'a str {
    barline.attribute("location").unwrap_or("right")
}

/// The staff that an element stands on, counted from 1.
pub(super) fn staff_of(element: &Element<'_>) -> u16 {
    element.child("staff").and_then(|staff| staff.text().parse().ok()).unwrap_or(1).max(1)
}

/// How long an element says that it is.
pub(super) fn ticks_of(element: &Element<'_>) -> Option<Ticks> {
    Ticks::parse(&element.child("duration")?.text())
}

/// Sets the divisions that an element states.
pub(super) fn divisions_of(attributes: &Element<'_>) -> Option<i64> {
    let text = attributes.child("divisions")?.text();
    let whole = text.split_once('.').map_or(text.as_str(), |(whole, _)| whole);
    whole.parse().ok().filter(|divisions| *divisions > 0)
}

/// Moves on by what takes time.
fn step(element: &Element<'_>, cursor: &mut Cursor) {
    match element.name {
        "attributes" => {
            if let Some(divisions) = divisions_of(element) {
                cursor.set_divisions(divisions);
            }
        }
        "note" if element.child("chord").is_none() && element.child("grace").is_none() => {
            ticks_of(element).and_then(|ticks| cursor.advance(ticks));
        }
        "forward" => {
            ticks_of(element).and_then(|ticks| cursor.advance(ticks));
        }
        "backup" => {
            ticks_of(element).and_then(|ticks| cursor.back(ticks));
        }
        _ => {}
    }
}

fn offset(direction: &Element<'_>, cursor: &mut Cursor) -> Option<Fraction> {
    let text = direction.child("offset")?.text();
    let length = cursor.length(Ticks::parse(text.trim_start_matches('-'))?)?;
    if text.starts_with('-') { Fraction::ZERO.checked_sub(length) } else { Some(length) }
}

fn says(direction: &Element<'_>, kind: &SystemMarkKind) -> bool {
    let inside: Vec<Element<'_>> = direction
        .children()
        .iter()
        .filter(|child| child.name == "direction-type")
        .flat_map(Element::children)
        .collect();
    let has = |name: &str| inside.iter().any(|child| child.name == name);
    let words = || -> String {
        let texts = inside.iter().filter(|child| child.name == "words").map(Element::text);
        texts.flat_map(|text| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>()).collect()
    };
    let reads = |wanted: &str| words().contains(&wanted.split_whitespace().collect::<String>());
    match kind {
        SystemMarkKind::Rehearsal(text) => inside
            .iter()
            .any(|child| child.name == "rehearsal" && child.text().split_whitespace().eq(text.split_whitespace())),
        SystemMarkKind::Tempo { words, metronome, .. } => {
            (metronome.is_some() && has("metronome")) || (!words.is_empty() && reads(words))
        }
        SystemMarkKind::TempoMoves(words) => reads(words),
        SystemMarkKind::GeneralPause => has("words"),
        SystemMarkKind::Jump(words) => has("segno") || has("coda") || reads(words),
    }
}

fn for_all(direction: &Element<'_>) -> String {
    let kept = direction.children().into_iter().filter(|child| match child.name {
        "direction-type" => child.children().iter().any(|inside| FOR_ALL.contains(&inside.name)),
        name => name == "sound",
    });
    let content: String = kept.map(|child| child.whole).collect();
    tag::around(direction.head, &content)
}
