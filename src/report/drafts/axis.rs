//! One axis of music for both drafts: every bar of either has a place, so that what was put in or taken out takes room where
//! it stands.

use std::collections::BTreeMap;

use crate::check::Compared;
use crate::compare::{Music, Status};
use crate::place::BarIdx;

/// One place on the axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Slot {
    pub old: Option<BarIdx>,
    pub new: Option<BarIdx>,
    pub status: Status,
}

/// All places in order, and where each bar of either draft stands among them.
#[derive(Clone, Debug, Default)]
pub(super) struct Axis {
    pub slots: Vec<Slot>,
    old: BTreeMap<BarIdx, usize>,
    new: BTreeMap<BarIdx, usize>,
}

impl Axis {
    pub fn of(compared: &Compared) -> Axis {
        let mut axis = Axis::default();
        for slot in slots(&compared.music) {
            let at = axis.slots.len();
            axis.old.extend(slot.old.map(|bar| (bar, at)));
            axis.new.extend(slot.new.map(|bar| (bar, at)));
            axis.slots.push(slot);
        }
        axis
    }

    pub fn of_old(&self, bar: BarIdx) -> Option<usize> {
        self.old.get(&bar).copied()
    }

    pub fn of_new(&self, bar: BarIdx) -> Option<usize> {
        self.new.get(&bar).copied()
    }

    /// From where to where each moved block went: its first and last place in the old draft and in the new one.
    pub fn moved(&self, music: &Music) -> Vec<[usize; 4]> {
        let mut blocks: Vec<[usize; 4]> = Vec::new();
        for pair in music.bars.iter().filter(|pair| pair.status == Status::Moved) {
            let places = pair.old.and_then(|bar| self.of_old(bar)).zip(pair.new.and_then(|bar| self.of_new(bar)));
            let Some((from, to)) = places else { continue };
            match blocks.last_mut().filter(|own| own[1] + 1 == from && own[3] + 1 == to) {
                Some(own) => (own[1], own[3]) = (from, to),
                None => blocks.push([from, from, to, to]),
            }
        }
        blocks
    }
}

/// In the order of the new draft; what was taken out, or moved away, where it stood.
fn slots(music: &Music) -> Vec<Slot> {
    let mut gone: Vec<BarIdx> =
        music.bars.iter().filter(|pair| pair.status == Status::Moved).filter_map(|pair| pair.old).collect();
    gone.sort_unstable();
    let mut gone = gone.into_iter().peekable();
    let mut slots = Vec::with_capacity(music.bars.len());
    for pair in &music.bars {
        if pair.status == Status::Moved {
            slots.push(Slot { old: None, new: pair.new, status: Status::Moved });
            continue;
        }
        if let Some(old) = pair.old {
            let before = std::iter::from_fn(|| gone.next_if(|bar| *bar < old));
            slots.extend(before.map(|bar| Slot { old: Some(bar), new: None, status: Status::Moved }));
        }
        slots.push(Slot { old: pair.old, new: pair.new, status: pair.status });
    }
    slots.extend(gone.map(|bar| Slot { old: Some(bar), new: None, status: Status::Moved }));
    slots
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compare::BarPair;

    #[test]
    fn every_bar_of_either_draft_has_one_place() {
        let pair = |old: Option<u32>, new: Option<u32>, status| BarPair {
            old: old.map(BarIdx),
            new: new.map(BarIdx),
            status,
            over: Vec::new(),
            cells: Vec::new(),
        };
        // 0 1 2 3 4 5 became 0 4 x 1 3: bar 4 moved forward, 2 and 5 are out, one is new.
        let music = Music {
            bars: vec![
                pair(Some(0), Some(0), Status::Equal),
                pair(Some(4), Some(1), Status::Moved),
                pair(None, Some(2), Status::Inserted),
                pair(Some(1), Some(3), Status::Equal),
                pair(Some(2), None, Status::Deleted),
                pair(Some(3), Some(4), Status::Edited),
                pair(Some(5), None, Status::Deleted),
            ],
            ..Music::default()
        };
        let told: Vec<(Option<u32>, Option<u32>)> =
            slots(&music).iter().map(|slot| (slot.old.map(|bar| bar.0), slot.new.map(|bar| bar.0))).collect();
        let expected = [
            (Some(0), Some(0)),
            (None, Some(1)),
            (None, Some(2)),
            (Some(1), Some(3)),
            (Some(2), None),
            (Some(3), Some(4)),
            (Some(4), None),
            (Some(5), None),
        ];
        assert_eq!(told, expected);
    }
}
