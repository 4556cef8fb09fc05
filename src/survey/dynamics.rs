//! How loud each staff has been told to play.

use crate::place::BarIdx;
use crate::score::{MarkKind, Score};

/// Loudness by the written mark: ppp 0, pp 1, p 2, mp 3, mf 4, f 5, ff 6, fff 7.
pub(super) type Level = u8;

/// The level of a dynamic that lasts; accents such as sfz have none. Of "fp" the part that lasts counts.
pub(super) fn level(text: &str) -> Option<Level> {
    let level = match text.trim() {
        text if text.starts_with("ppp") => 0,
        "pp" | "fpp" | "sfpp" | "ffpp" => 1,
        "p" | "fp" | "sfp" | "ffp" | "mfp" => 2,
        "mp" => 3,
        "mf" => 4,
        "f" | "pf" => 5,
        "ff" => 6,
        text if text.starts_with("fff") => 7,
        _ => return None,
    };
    Some(level)
}

/// What one staff was told last.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Told {
    pub level: Option<Level>,
    /// The last bar in which a hairpin or "cresc." led to another loudness.
    pub moved: Option<BarIdx>,
}

/// Follows all staves through the bars.
pub(super) struct Levels(pub Vec<Told>);

impl Levels {
    pub fn new(score: &Score) -> Levels {
        Levels(vec![Told::default(); score.staves.len()])
    }

    /// Takes in one bar.
    pub fn pass(&mut self, score: &Score, bar: BarIdx) {
        let staves = score.staves.len();
        let cells = score.cells.get(bar.at() * staves..(bar.at() + 1) * staves).unwrap_or_default();
        for (told, cell) in self.0.iter_mut().zip(cells) {
            for mark in &cell.marks {
                match &mark.kind {
                    MarkKind::Dynamic(text) => told.level = level(text).or(told.level),
                    MarkKind::HairpinStart { .. } | MarkKind::HairpinStop { .. } => told.moved = Some(bar),
                    MarkKind::Words(text) if moves(text) => told.moved = Some(bar),
                    _ => {}
                }
            }
        }
    }
}

fn moves(text: &str) -> bool {
    let text = text.to_lowercase();
    ["cresc", "dim", "decresc", "morendo", "calando", "smorz"].iter().any(|word| text.contains(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lasting_part_of_a_dynamic_is_its_level() {
        assert_eq!(level("fp"), level("p"));
        assert!(level("ff") > level("f"));
        assert_eq!(level("sfz"), None);
    }
}
