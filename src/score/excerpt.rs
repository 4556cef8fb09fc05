//! A passage as a score of its own.

use super::{Movement, Score, SystemMark};
use crate::place::{BarIdx, BarSpan};

impl Score {
    /// The bars of a passage, counted from 0 there; everything that is in force in them stays so.
    #[must_use]
    pub fn excerpt(&self, bars: BarSpan) -> Score {
        let (from, to) = (bars.first.at().min(self.bars.len()), (bars.last.at() + 1).min(self.bars.len()));
        let staves = self.staves.len();
        let moved = |bar: BarIdx| BarIdx(bar.0.saturating_sub(bars.first.0));
        let movement = |own: &Movement| {
            let first = own.bars.first.max(bars.first);
            let last = own.bars.last.min(BarIdx(u32::try_from(to).ok()?.checked_sub(1)?));
            (first <= last).then(|| Movement { bars: BarSpan::new(moved(first), moved(last)), ..own.clone() })
        };
        let marks = self.marks.iter().filter(|mark| bars.contains(mark.bar));
        Score {
            movements: self.movements.iter().filter_map(movement).collect(),
            bars: self.bars.get(from..to).unwrap_or_default().to_vec(),
            cells: self.cells.get(from * staves..to * staves).unwrap_or_default().to_vec(),
            marks: marks.map(|mark| SystemMark { bar: moved(mark.bar), ..mark.clone() }).collect(),
            title: self.title.clone(),
            composer: self.composer.clone(),
            parts: self.parts.clone(),
            staves: self.staves.clone(),
            groups: self.groups.clone(),
            credits: Vec::new(),
            concert_pitch: self.concert_pitch,
            tempo_assumed: self.tempo_assumed,
            note_elements: 0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;

    #[test]
    fn a_passage_keeps_its_music_and_counts_from_nothing() {
        let mut score = fixture::score(&fixture::QUARTET, 8);
        fixture::add_movement(&mut score, 4);
        fixture::put(&mut score, 6, 2, vec![fixture::quarter("C4", 1)]);
        let own = score.excerpt(BarSpan::new(BarIdx(6), BarIdx(9)));
        assert_eq!(own.bars.len(), 4);
        assert_eq!(own.cells.get(2), score.cells.get(6 * 4 + 2));
        let movements: Vec<(u32, u32)> = own.movements.iter().map(|own| (own.bars.first.0, own.bars.last.0)).collect();
        assert_eq!(movements, [(0, 1), (2, 3)]);
        assert_eq!(score.excerpt(BarSpan::new(BarIdx(20), BarIdx(30))).bars.len(), 0);
    }
}
