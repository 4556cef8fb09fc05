//! Finds room on a sheet for the numbered marks: near what they mark, and never over a staff, a word or another mark.
//!
//! A mark sits inside or beside its target when there is room; otherwise it goes where it is nearest, rather along
//! the lines of the music than across them, and a thin leader runs from it to its target.

use crate::geometry::Rect;
use crate::report::pdf::{Point, at};
use crate::units::Mm;

mod segment;

use segment::{crosses, meet};

/// Edge of the box that a mark on a map fills.
pub const MARK: Mm = Mm(3.9);
/// White that is kept around a mark.
pub const CLEAR: Mm = Mm(0.2);
/// Marks stand on the crossings of a grid this wide.
const STEP: f64 = 0.5;
/// How many of the nearest free places are looked at for one whose leader hurts nothing.
const TRIED: usize = 3000;
/// What it costs a mark to sit in the box of another, in micrometres of distance.
const INTRUSION: u64 = 60_000;
/// A grid this many places wide or high is larger than any sheet; beyond it there is no room.
const GRID_LIMIT: usize = 1200;

/// Where a mark came to stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seat {
    pub mark: Rect,
    /// From the mark's edge to the nearest point of its target; `None` when the two touch.
    pub leader: Option<(Point, Point)>,
}

impl Seat {
    #[must_use]
    pub fn centre(&self) -> Point {
        at((self.mark.left + self.mark.right) / 2.0, (self.mark.top + self.mark.bottom) / 2.0)
    }
}

/// The part of a sheet where marks may stand, and what of it is taken.
#[derive(Clone, Debug)]
pub struct Room {
    area: Rect,
    columns: usize,
    rows: usize,
    /// Row by row: whether a mark may have its centre here.
    free: Vec<bool>,
    /// Row by row: how many of the marked boxes a mark here would touch.
    boxes: Vec<u16>,
    /// Marked boxes, so that a mark does not sit in the box of another.
    owned: Vec<Rect>,
    /// Words, which leaders run around as far as they can.
    words: Vec<Rect>,
    marks: Vec<Rect>,
    leaders: Vec<(Point, Point)>,
}

impl Room {
    /// All of `area` but `taken`.
    #[must_use]
    pub fn new(area: Rect, taken: &[Rect]) -> Room {
        let places = |length: Mm| {
            let steps = ((length - MARK).0 / STEP).floor();
            if steps >= 0.0 { (steps as usize + 1).min(GRID_LIMIT) } else { 0 }
        };
        let (columns, rows) = (places(area.width()), places(area.height()));
        let (free, boxes) = (vec![true; columns * rows], vec![0; columns * rows]);
        let (owned, words, marks, leaders) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        let mut room = Room { area, columns, rows, free, boxes, owned, words, marks, leaders };
        taken.iter().for_each(|rect| room.take(rect));
        room
    }

    /// Keeps the inside of a marked box for its own mark, as far as there is room elsewhere.
    pub fn own(&mut self, rect: &Rect) {
        if !self.owned.contains(rect) {
            self.owned.push(*rect);
            for line in self.touched(rect) {
                if let Some(places) = self.boxes.get_mut(line) {
                    places.iter_mut().for_each(|count| *count = count.saturating_add(1));
                }
            }
        }
    }

    /// Takes the place of words, and keeps leaders from running over them as far as there is another way.
    pub fn keep_legible(&mut self, words: &Rect) {
        self.take(&words.grown(CLEAR * 2.0));
        self.words.push(*words);
    }

    /// Seats the mark of `target`; `None` when there is no room left anywhere.
    pub fn seat(&mut self, target: &Rect) -> Option<Seat> {
        let seats = self.nearest(target);
        let seat = seats
            .iter()
            .find(|seat| self.is_clear(seat) && self.is_tidy(seat))
            .or_else(|| seats.iter().find(|seat| self.is_clear(seat)))
            .or(seats.first())
            .copied()?;
        self.take(&seat.mark);
        self.marks.push(seat.mark);
        if let Some(leader) = seat.leader {
            segment::boxes(leader).for_each(|rect| self.take(&rect));
            self.leaders.push(leader);
        }
        Some(seat)
    }

    /// No mark may touch `rect` from now on.
    fn take(&mut self, rect: &Rect) {
        for line in self.touched(rect) {
            if let Some(places) = self.free.get_mut(line) {
                places.fill(false);
            }
        }
    }

    /// Places, row by row, where a mark would touch `rect`.
    fn touched(&self, rect: &Rect) -> impl Iterator<Item = std::ops::Range<usize>> + use<> {
        let reach = (MARK / 2.0 + CLEAR).0;
        let cells = |from: Mm, to: Mm, start: Mm, count: usize| {
            // Centres strictly between from - reach and to + reach; start is the first centre.
            let first = ((from.0 - reach - start.0) / STEP).floor() + 1.0;
            let end = ((to.0 + reach - start.0) / STEP).ceil();
            let clamped = |value: f64| value.clamp(0.0, count as f64) as usize;
            clamped(first)..clamped(end)
        };
        let start = self.centre(0, 0);
        let columns = cells(rect.left, rect.right, start.x, self.columns);
        let width = self.columns;
        let end = columns.end.max(columns.start);
        cells(rect.top, rect.bottom, start.y, self.rows).map(move |row| row * width + columns.start..row * width + end)
    }

    /// The best free places, best first; ties go to the higher, then to the more leftward.
    fn nearest(&self, target: &Rect) -> Vec<Seat> {
        let is_owned = self.owned.contains(target);
        let mut places: Vec<(u64, usize)> = self
            .free
            .iter()
            .enumerate()
            .filter(|(_, free)| **free)
            .map(|(place, _)| {
                let mark = self.mark_at(place);
                let own = u16::from(is_owned && mark.grown(CLEAR).overlaps(target));
                let intrudes = self.boxes.get(place).is_some_and(|boxes| *boxes > own);
                (cost(&mark, target) + if intrudes { INTRUSION } else { 0 }, place)
            })
            .collect();
        if places.len() > TRIED {
            places.select_nth_unstable(TRIED);
            places.truncate(TRIED);
        }
        places.sort_unstable();
        places
            .into_iter()
            .map(|(_, place)| {
                let mark = self.mark_at(place);
                Seat { mark, leader: leader(&mark, target) }
            })
            .collect()
    }

    /// Whether the seat's leader runs over no mark.
    fn is_clear(&self, seat: &Seat) -> bool {
        seat.leader.is_none_or(|line| self.marks.iter().all(|mark| !crosses(line, mark)))
    }

    /// Whether the seat's leader runs over no words and no other leader.
    fn is_tidy(&self, seat: &Seat) -> bool {
        let crossed = |line| {
            self.words.iter().any(|words| crosses(line, words)) || self.leaders.iter().any(|other| meet(line, *other))
        };
        !seat.leader.is_some_and(crossed)
    }

    fn mark_at(&self, place: usize) -> Rect {
        let columns = self.columns.max(1);
        let centre = self.centre(place % columns, place / columns);
        Rect::new(centre.x, centre.y, centre.x, centre.y).grown(MARK / 2.0)
    }

    fn centre(&self, column: usize, row: usize) -> Point {
        let half = MARK / 2.0;
        at(self.area.left + half + Mm(column as f64 * STEP), self.area.top + half + Mm(row as f64 * STEP))
    }
}

/// How far a mark is from its target, in micrometres: across the lines of the music counts double; inside a target
/// its top left corner is best.
fn cost(mark: &Rect, target: &Rect) -> u64 {
    let (across, along) = (
        apart(mark.top, mark.bottom, target.top, target.bottom),
        apart(mark.left, mark.right, target.left, target.right),
    );
    let corner = (mark.top - target.top).abs() * 0.05 + (mark.left - target.left).abs() * 0.02;
    ((across * 2.0 + along + corner).0.max(0.0) * 1000.0) as u64
}

/// The gap between two stretches of one axis; 0 when they share a point.
fn apart(from: Mm, to: Mm, other_from: Mm, other_to: Mm) -> Mm {
    (other_from - to).max(from - other_to).max(Mm::ZERO)
}

/// The shortest straight line between two boxes, `None` when it would be too short to be seen.
fn leader(mark: &Rect, target: &Rect) -> Option<(Point, Point)> {
    let axis = |from: Mm, to: Mm, other_from: Mm, other_to: Mm| {
        if to < other_from {
            (to, other_from)
        } else if from > other_to {
            (from, other_to)
        } else {
            let middle = (from.max(other_from) + to.min(other_to)) / 2.0;
            (middle, middle)
        }
    };
    let (x, target_x) = axis(mark.left, mark.right, target.left, target.right);
    let (y, target_y) = axis(mark.top, mark.bottom, target.top, target.bottom);
    let visible = (x - target_x).abs() + (y - target_y).abs() > CLEAR + Mm(STEP);
    visible.then_some((at(x, y), at(target_x, target_y)))
}

#[cfg(test)]
mod tests;
