//! Reads the moments of a bar, and on each staff what stands at them.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::item::{Head, Item};
use super::material::{BarMaterial, Content, Material, Moment, Neighbours, Words};
use super::sketch;
use crate::metrics::text_width;
use crate::place::BarIdx;
use crate::score::{Cell, Event, EventKind, Grace, Score};
use crate::units::{Fraction, Spaces};

/// All staves of one bar.
pub(super) fn cells(score: &Score, bar: BarIdx) -> &[Cell] {
    let count = score.staves.len();
    score.cells.get(bar.at() * count..(bar.at() + 1) * count).unwrap_or_default()
}

/// Reads bar after bar with the same working room.
pub(super) struct Reader<'a> {
    score: &'a Score,
    onsets: Vec<Fraction>,
    /// Onset and length.
    sounding: Vec<(Fraction, Fraction)>,
    /// Heads of one moment.
    heads: Vec<Head>,
    /// Columns of one staff, and what stands there.
    items: Vec<(usize, Item)>,
    /// Columns of one staff, and the widths of their syllables.
    syllables: Vec<(usize, Spaces)>,
}

impl<'a> Reader<'a> {
    pub fn new(score: &'a Score) -> Reader<'a> {
        let (onsets, sounding, heads) = (Vec::new(), Vec::new(), Vec::new());
        Reader { score, onsets, sounding, heads, items: Vec::new(), syllables: Vec::new() }
    }

    /// Adds the bar's columns and what stands in them. `is_last`: a movement ends with it.
    pub fn read(&mut self, bar: BarIdx, is_last: bool, material: &mut Material) -> BarMaterial {
        let length = self.score.bar(bar).map_or(Fraction::ZERO, |bar| bar.length);
        let cells = cells(self.score, bar);
        self.gather(cells);
        if self.onsets.is_empty() {
            let planned = sketch::column(cells, length);
            let content = planned.map_or(Content::Empty(length), |(column, room)| Content::Planned(column, room));
            return BarMaterial { content, ..BarMaterial::default() };
        }
        let first = material.moments.len();
        self.add_moments(length, &mut material.moments);
        let next = if is_last { &[] } else { self::cells(self.score, BarIdx(bar.0 + 1)) };
        let (neighbours, openings, words) = (material.neighbours.len(), material.openings.len(), material.words.len());
        for (at, cell) in cells.iter().enumerate() {
            let announced = next.get(at).is_some_and(|next| next.clef_changes.iter().any(|(at, _)| at.is_zero()));
            self.add_staff(cell, announced, material);
        }
        BarMaterial {
            content: Content::Moments(first..material.moments.len()),
            neighbours: neighbours..distinct(&mut material.neighbours, neighbours),
            openings: openings..distinct(&mut material.openings, openings),
            words: words..widest(&mut material.words, words),
            ..BarMaterial::default()
        }
    }

    fn gather(&mut self, cells: &[Cell]) {
        self.onsets.clear();
        self.sounding.clear();
        for event in cells.iter().flat_map(|cell| &cell.events).filter(|event| has_a_moment(event)) {
            self.onsets.push(event.onset);
            self.sounding.push((event.onset, event.length));
        }
        self.onsets.sort_unstable();
        self.onsets.dedup();
        self.sounding.sort_unstable();
        self.sounding.dedup();
    }

    /// Of all that sounds over a gap the shortest comes first out of the heap; what has ended is thrown away.
    fn add_moments(&self, length: Fraction, moments: &mut Vec<Moment>) {
        let mut begun = self.sounding.iter().peekable();
        let mut shortest_first = BinaryHeap::new();
        for (at, onset) in self.onsets.iter().enumerate() {
            while let Some((from, length)) = begun.next_if(|(from, _)| from <= onset) {
                let end = from.checked_add(*length).unwrap_or(*from);
                shortest_first.push(Reverse((*length, end)));
            }
            while shortest_first.peek().is_some_and(|Reverse((_, end))| end <= onset) {
                shortest_first.pop();
            }
            let next = self.onsets.get(at + 1).copied().unwrap_or(length);
            let gap = next.checked_sub(*onset).map_or(0.0, Fraction::to_f64).max(0.0);
            let shortest = shortest_first.peek().map_or(gap, |Reverse((length, _))| length.to_f64());
            moments.push(Moment { gap, shortest });
        }
    }

    fn add_staff(&mut self, cell: &Cell, clef_at_end: bool, material: &mut Material) {
        self.items.clear();
        self.syllables.clear();
        let mut together: Vec<&Event> = Vec::new();
        // Before the events together, and before the next event.
        let (mut graces, mut before) = (0u8, 0u8);
        for event in cell.events.iter().filter(|event| event.printed) {
            if event.grace != Grace::No {
                before = before.saturating_add(1);
            } else if has_a_moment(event) {
                if together.first().is_some_and(|first| first.onset != event.onset) {
                    self.add_item(cell, &together, graces);
                    together.clear();
                    graces = 0;
                }
                together.push(event);
                graces = graces.max(std::mem::take(&mut before));
            }
        }
        self.add_item(cell, &together, graces);
        let ends_with_clef = self.add_clefs(cell) || clef_at_end;
        self.add_neighbours(ends_with_clef, material);
        self.add_words(&mut material.words);
    }

    fn add_item(&mut self, cell: &Cell, together: &[&Event], graces: u8) {
        let Some(Ok(column)) = together.first().map(|first| self.onsets.binary_search(&first.onset)) else { return };
        self.items.push((column, Item::of(together, graces, cell, &mut self.heads)));
        let width = together.iter().map(|event| widest_syllable(event)).fold(Spaces::ZERO, Spaces::max);
        if width > Spaces::ZERO {
            self.syllables.push((column, width));
        }
    }

    /// Clefs inside the bar stand before what follows them; whether one stands at its end.
    fn add_clefs(&mut self, cell: &Cell) -> bool {
        let mut at_end = false;
        for (onset, _) in cell.clef_changes.iter().filter(|(onset, _)| *onset > Fraction::ZERO) {
            let column = self.onsets.partition_point(|moment| moment < onset);
            if column == self.onsets.len() {
                at_end = true;
            } else if let Some((_, item)) = self.items.iter_mut().find(|(own, _)| *own == column) {
                item.clef = true;
            } else {
                self.items.push((column, Item::CLEF));
                self.items.sort_unstable();
            }
        }
        at_end
    }

    fn add_neighbours(&self, ends_with_clef: bool, material: &mut Material) {
        for (at, (column, this)) in self.items.iter().enumerate() {
            if *column == 0 && this.reaches_left() {
                material.openings.push(*this);
            }
            let next = if column + 1 == self.onsets.len() {
                ends_with_clef.then_some(Item::CLEF)
            } else {
                match self.items.get(at + 1) {
                    Some((next, item)) if *next == column + 1 => Some(*item),
                    // Nothing beside it: what stands there has the room of two columns or more.
                    _ => continue,
                }
            };
            let is_plain = |next: Item| !next.reaches_left() && !this.shares_ledgers(next);
            if this.reaches_right() || !next.is_none_or(is_plain) {
                material.neighbours.push(Neighbours { column: *column, this: *this, next });
            }
        }
    }

    fn add_words(&self, words: &mut Vec<Words>) {
        for (at, (column, width)) in self.syllables.iter().enumerate() {
            let (end, next) = self.syllables.get(at + 1).copied().unwrap_or((self.onsets.len(), Spaces::ZERO));
            words.push(Words { columns: (*column, end), width: (*width + next) / 2.0 });
        }
    }
}

/// Grace notes stand before other notes; whole bars of rest stand anywhere in the bar.
fn has_a_moment(event: &Event) -> bool {
    event.printed && event.grace == Grace::No && !matches!(event.kind, EventKind::Rest { whole_bar: true })
}

fn widest_syllable(event: &Event) -> Spaces {
    event.lyrics.iter().map(|syllable| text_width(&syllable.text, Spaces(1.0))).fold(Spaces::ZERO, Spaces::max)
}

/// Sorts the list from an index on, drops what is equal, and gives its end.
fn distinct<T: Ord + Copy>(list: &mut Vec<T>, from: usize) -> usize {
    let mut own = list.split_off(from);
    own.sort_unstable();
    own.dedup();
    list.append(&mut own);
    list.len()
}

/// Of words over the same columns only the widest ask for room.
fn widest(words: &mut Vec<Words>, from: usize) -> usize {
    let mut own = words.split_off(from);
    own.sort_by(|a, b| a.columns.cmp(&b.columns).then(b.width.0.total_cmp(&a.width.0)));
    own.dedup_by_key(|words| words.columns);
    words.append(&mut own);
    words.len()
}
