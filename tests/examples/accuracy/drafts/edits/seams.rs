//! Where a score can be cut between two bars: where nothing goes on across the barline in any part.

use std::collections::BTreeMap;

use super::super::text::{Cut, attribute};

/// For each place before a bar, and the one after the last, whether the score can be cut there.
#[derive(Debug)]
pub struct Seams {
    is_clean: Vec<bool>,
}

/// Elements that begin in one bar and may end in another.
const SPANS: [&str; 15] = [
    "tie",
    "slur",
    "wedge",
    "octave-shift",
    "tuplet",
    "wavy-line",
    "dashes",
    "bracket",
    "pedal",
    "glissando",
    "slide",
    "tremolo",
    "ending",
    "repeat",
    "measure-repeat",
];

impl Seams {
    pub fn of(cut: &Cut) -> Seams {
        let mut is_clean = vec![true; cut.bars() + 1];
        for part in &cut.parts {
            // Where each open element began, by its name and what tells it from others of that name.
            let mut open: BTreeMap<(&str, String), usize> = BTreeMap::new();
            let mut rests = 0;
            for (at, bar) in part.bars.iter().enumerate() {
                if at < rests {
                    is_clean[at] = false;
                }
                for mark in marks(bar) {
                    match mark {
                        Mark::Begins(key) => {
                            open.insert(key, at);
                        }
                        Mark::Ends(key) => {
                            // A repeat goes back to the beginning where nothing else is written.
                            let from = open.remove(&key).or((key.0 == "repeat").then_some(0));
                            from.into_iter().flat_map(|from| from + 1..=at).for_each(|seam| is_clean[seam] = false);
                        }
                        Mark::Rests(count) => rests = at + count,
                    }
                }
            }
        }
        Seams { is_clean }
    }

    /// Whether the score can be cut before a bar of the old draft.
    pub fn is_clean(&self, before: usize) -> bool {
        self.is_clean.get(before) == Some(&true)
    }

    pub fn bars(&self) -> usize {
        self.is_clean.len().saturating_sub(1)
    }
}

enum Mark<'a> {
    Begins((&'a str, String)),
    Ends((&'a str, String)),
    /// A rest of so many bars.
    Rests(usize),
}

fn marks(bar: &str) -> Vec<Mark<'_>> {
    let mut marks = Vec::new();
    let mut pitch = String::new();
    for (at, _) in bar.match_indices('<') {
        let rest = &bar[at + 1..];
        let name = &rest[..rest.find([' ', '>', '/']).unwrap_or(0)];
        match name {
            "pitch" | "unpitched" => {
                pitch = rest.split("</").take(3).flat_map(|piece| piece.rsplit('>').take(1)).map(str::trim).collect();
            }
            "multiple-rest" => {
                let count = rest.split(['>', '<']).nth(1).and_then(|text| text.trim().parse().ok());
                marks.extend(count.map(Mark::Rests));
            }
            _ if SPANS.contains(&name) => {
                let kind = attribute(rest, "type").or(attribute(rest, "direction")).unwrap_or_default();
                let own = match name {
                    "tie" => pitch.clone(),
                    "ending" | "repeat" => String::new(),
                    _ => attribute(rest, "number").unwrap_or("1").to_owned(),
                };
                match kind {
                    "start" | "crescendo" | "diminuendo" | "up" | "down" | "forward" => {
                        marks.push(Mark::Begins((name, own)));
                    }
                    "stop" | "discontinue" | "backward" => marks.push(Mark::Ends((name, own))),
                    _ => {}
                }
            }
            _ => {}
        }
    }
    marks
}
