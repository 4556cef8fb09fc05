//! What every part does in every bar: made once, asked for each player.

use super::pitch;
use crate::place::{BarIdx, PartId, StaffId};
use crate::score::{Cell, EventKind, MarkKind, Pitch, Score};
use crate::units::Fraction;

/// All parts of a work, bar by bar.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Everyone {
    parts: usize,
    /// Bar by bar, each part.
    bars: Vec<InBar>,
    names: Vec<String>,
    /// Of each staff.
    part_of: Vec<PartId>,
}

/// One part in one bar.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct InBar {
    pub sounds: bool,
    /// Of its first note.
    pub onset: Option<Fraction>,
    /// Of its first note's highest head, as it sounds.
    pub first: Option<Pitch>,
    /// Notes that begin here.
    pub notes: u16,
    pub loudness: Option<i8>,
}

/// How loud a dynamic is, -4 (pppp) to 4 (ffff), 0 in the middle; `None` for accents, which do not last.
#[must_use]
pub fn loudness(dynamic: &str) -> Option<i8> {
    let text = dynamic.trim();
    let all = |letter: char| !text.is_empty() && text.chars().all(|own| own == letter);
    match text {
        "mp" | "mf" => Some(0),
        "n" => Some(-4),
        "fp" | "pf" => Some(-1),
        "sfp" => Some(-1),
        _ if all('p') => Some(-(text.len().min(4) as i8)),
        _ if all('f') => Some(text.len().min(4) as i8),
        _ => None,
    }
}

impl Everyone {
    #[must_use]
    pub fn of(score: &Score) -> Everyone {
        let (parts, staves) = (score.parts.len(), score.staves.len().max(1));
        let mut everyone = Everyone {
            parts,
            bars: vec![InBar::default(); parts * score.bars.len()],
            names: score.parts.iter().map(|part| part.name.clone()).collect(),
            part_of: score.staves.iter().map(|staff| staff.part).collect(),
        };
        let mut force: Vec<Option<i8>> = vec![None; staves];
        for (at, cell) in score.cells.iter().enumerate() {
            let (bar, staff) = (at / staves, at % staves);
            let Some(part) = score.staves.get(staff).map(|staff| staff.part.at()) else { continue };
            let own = everyone.bars.get_mut(bar * parts + part);
            if let (Some(own), Some(force)) = (own, force.get_mut(staff)) {
                own.add(cell, force);
            }
        }
        everyone
    }

    /// A part in a bar.
    #[must_use]
    pub fn at(&self, bar: BarIdx, part: PartId) -> InBar {
        self.bars.get(bar.at() * self.parts + part.at()).copied().unwrap_or_default()
    }

    /// All parts but those of some staves.
    pub fn others(&self, own: &[StaffId]) -> impl Iterator<Item = PartId> {
        let own: Vec<PartId> = own.iter().filter_map(|staff| self.part_of.get(staff.at()).copied()).collect();
        (0..self.parts).map(|part| PartId(part as u16)).filter(move |part| !own.contains(part))
    }

    #[must_use]
    pub fn name(&self, part: PartId) -> &str {
        self.names.get(part.at()).map_or("", String::as_str)
    }
}

impl InBar {
    fn add(&mut self, cell: &Cell, force: &mut Option<i8>) {
        let first = cell.events.iter().find_map(|event| match &event.kind {
            EventKind::Chord(notes) if !event.cue => Some((event.onset, notes.last()?)),
            _ => None,
        });
        if let Some((onset, note)) = first
            && self.onset.is_none_or(|known| onset < known)
        {
            self.onset = Some(onset);
            self.first = (!note.unpitched).then(|| pitch::sounding(note.pitch, cell.transposition));
        }
        self.sounds |= cell.sounds();
        let notes = cell.events.iter().filter(|event| matches!(event.kind, EventKind::Chord(_)) && !event.cue).count();
        self.notes = self.notes.saturating_add(notes.min(1000) as u16);
        for mark in &cell.marks {
            if let MarkKind::Dynamic(text) = &mark.kind {
                *force = loudness(text).or(*force);
            }
        }
        if cell.sounds() {
            self.loudness = self.loudness.max(*force);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dynamics_lie_on_one_scale_and_accents_do_not_last() {
        let levels = ["pppp", "ppp", "p", "mp", "mf", "f", "ff", "ffff"].map(loudness);
        assert_eq!(levels, [-4, -3, -1, 0, 0, 1, 2, 4].map(Some));
        assert_eq!(loudness("sfz"), None);
        assert_eq!(loudness("fp"), Some(-1));
    }
}
