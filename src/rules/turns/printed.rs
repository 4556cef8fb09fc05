//! What is printed at the foot of a page about the turn.

use crate::place::PageIdx;
use crate::rules::Case;
use crate::score::{MarkKind, SystemMarkKind};

impl Case<'_> {
    /// Whether words that `mean` it stand in the page's last system or outside the music.
    pub(super) fn prints_at_foot(&self, at: PageIdx, mean: fn(&str) -> bool) -> bool {
        let Some(page) = self.page(at) else { return false };
        if page.texts.iter().any(|text| mean(&text.text)) {
            return true;
        }
        let Some(bars) = page.systems.last().and_then(|system| system.span()) else { return false };
        let staves = self.score.staves.len();
        let cells = bars.iter().flat_map(|bar| {
            let from = bar.at().saturating_mul(staves);
            self.score.cells.get(from..from.saturating_add(staves)).unwrap_or_default()
        });
        let at_staves = cells.flat_map(|cell| &cell.marks).any(|mark| match &mark.kind {
            MarkKind::Words(text) | MarkKind::Dynamic(text) => mean(text),
            _ => false,
        });
        let over = self.score.marks.iter().filter(|mark| bars.contains(mark.bar));
        at_staves
            || over.into_iter().any(|mark| match &mark.kind {
                SystemMarkKind::Tempo { words, .. } => mean(words),
                SystemMarkKind::TempoMoves(text) | SystemMarkKind::Jump(text) | SystemMarkKind::Rehearsal(text) => {
                    mean(text)
                }
                SystemMarkKind::GeneralPause => false,
            })
    }
}

/// "V.S.", "volti subito" and their like: turn at once.
pub(super) fn turn_at_once(text: &str) -> bool {
    let plain: String = text.to_lowercase().chars().filter(|letter| letter.is_alphanumeric()).collect();
    plain == "vs" || ["volti", "wenden", "umblättern", "tournez", "turn"].iter().any(|word| plain.contains(word))
}

/// "time", "4 bars rest", "Zeit": no haste, the hands are free overleaf.
pub(super) fn time_to_turn(text: &str) -> bool {
    let text = text.to_lowercase();
    let mut words = text.split(|letter: char| !letter.is_alphanumeric());
    words.any(|word| ["time", "zeit", "temps", "rest", "rests", "pause", "pausen", "tacet"].contains(&word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn to_turn_at_once_and_to_have_time_are_opposites() {
        for text in ["V.S.", "VS", "(v. s.)", "Volti subito", "volti", "Tournez vite", "schnell wenden"] {
            assert!(turn_at_once(text) && !time_to_turn(text), "{text}");
        }
        for text in ["time", "(time)", "4 bars rest", "Zeit", "3 Takte Pause"] {
            assert!(time_to_turn(text) && !turn_at_once(text), "{text}");
        }
        for text in ["a tempo", "dolce", "f", "sempre"] {
            assert!(!time_to_turn(text) && !turn_at_once(text), "{text}");
        }
    }
}
