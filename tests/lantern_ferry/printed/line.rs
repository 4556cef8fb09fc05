//! One staff through one system: its notes and rests in their places.

use rastrum::geometry::Rect;
use rastrum::place::StaffId;
use rastrum::score::{Event, EventKind, Grace, Score, Stem};
use rastrum::units::Mm;

use super::bars::Bar;
use super::fine::{Fine, Staff};

/// A chord or rest in its place.
#[derive(Clone, Debug)]
pub struct Placed<'a> {
    pub event: &'a Event,
    /// Which of the system's bars it is in.
    pub bar: usize,
    /// Of those that the bar has on this staff, from the top; and how many there are.
    pub voice: (usize, usize),
    /// Left edge of its heads, and their width.
    pub x: Mm,
    pub width: Mm,
    /// Of its heads, in half spaces from the middle line upwards; from the lowest.
    pub heights: Vec<i32>,
    pub up: bool,
    /// Against notes of full size.
    pub scale: f64,
    /// Where its stem ends; `None` without stem.
    pub tip: Option<Mm>,
    /// What it and its signs fill.
    pub top: Mm,
    pub bottom: Mm,
}

pub struct Line<'a> {
    pub id: StaffId,
    pub staff: Staff,
    pub fine: Fine,
    pub events: Vec<Placed<'a>>,
    /// What else stands there already.
    pub taken: Vec<Rect>,
}

/// Widths of heads for a staff one high.
const BLACK_HEAD: f64 = 0.297;
const WHOLE_HEAD: f64 = 0.414;
/// Of grace notes and cues.
const SMALL: f64 = 0.65;

impl<'a> Line<'a> {
    pub fn of(score: &'a Score, id: StaffId, staff: Staff, bars: &[Bar]) -> Line<'a> {
        let mut events = Vec::new();
        for (at, bar) in bars.iter().enumerate().filter(|(_, bar)| bar.span.count() == 1) {
            let Some(cell) = score.cell(bar.span.first, id) else { continue };
            let mut voices: Vec<u16> = cell.events.iter().map(|event| event.voice).collect();
            voices.sort_unstable();
            voices.dedup();
            for event in cell.events.iter().filter(|event| event.printed) {
                let voice = voices.iter().position(|own| *own == event.voice).unwrap_or(0);
                let middle = cell.clef_at(event.onset).middle_line_steps();
                events.push(placed(event, staff, bar, (at, (voice, voices.len())), middle));
            }
        }
        Line { id, staff, fine: Fine::of(staff.height), events, taken: Vec::new() }
    }

    /// The lowest place that anything reaches between two places across; the bottom line at the least.
    pub fn floor(&self, from: Mm, to: Mm) -> Mm {
        let others = self.taken_between(from, to).map(|rect| rect.bottom);
        self.between(from, to).map(|own| own.bottom).chain(others).fold(self.staff.bottom(), Mm::max)
    }

    /// The highest place, likewise.
    pub fn ceiling(&self, from: Mm, to: Mm) -> Mm {
        let others = self.taken_between(from, to).map(|rect| rect.top);
        self.between(from, to).map(|own| own.top).chain(others).fold(self.staff.top, Mm::min)
    }

    fn between(&self, from: Mm, to: Mm) -> impl Iterator<Item = &Placed<'a>> {
        let near = self.staff.space() * 0.5;
        self.events.iter().filter(move |own| own.x + own.width + near > from && own.x - near < to)
    }

    fn taken_between(&self, from: Mm, to: Mm) -> impl Iterator<Item = &Rect> {
        self.taken.iter().filter(move |rect| rect.right > from && rect.left < to)
    }

    /// The next chord of the same voice.
    pub fn after(&self, at: usize) -> Option<&Placed<'a>> {
        let own = self.events.get(at)?;
        let later = self.events.iter().skip(at + 1);
        later.filter(|other| other.event.voice == own.event.voice && other.is_chord()).find(|other| !other.is_grace())
    }
}

impl Placed<'_> {
    pub fn is_chord(&self) -> bool {
        matches!(self.event.kind, EventKind::Chord(_))
    }

    pub fn is_grace(&self) -> bool {
        self.event.grace != Grace::No
    }

    pub fn highest(&self) -> i32 {
        self.heights.last().copied().unwrap_or(0)
    }

    pub fn lowest(&self) -> i32 {
        self.heights.first().copied().unwrap_or(0)
    }

    pub fn centre(&self) -> Mm {
        self.x + self.width / 2.0
    }

    /// Makes what it fills larger.
    pub fn reach(&mut self, y: Mm) {
        self.top = self.top.min(y);
        self.bottom = self.bottom.max(y);
    }

    /// 0 for a whole note, 2 for a quarter.
    pub fn halvings(&self) -> i8 {
        self.event.value.halvings.unwrap_or(2)
    }
}

fn placed<'a>(
    event: &'a Event,
    staff: Staff,
    bar: &Bar,
    (at, voice): (usize, (usize, usize)),
    middle: i32,
) -> Placed<'a> {
    let heights: Vec<i32> = match &event.kind {
        EventKind::Chord(notes) => notes.iter().map(|note| note.pitch.steps() - middle).collect(),
        EventKind::Rest { .. } => Vec::new(),
    };
    let is_grace = event.grace != Grace::No;
    let scale = if is_grace || event.cue { SMALL } else { 1.0 };
    let is_whole = event.value.halvings.is_some_and(|halvings| halvings <= 0);
    let width = staff.height * (scale * if is_whole { WHOLE_HEAD } else { BLACK_HEAD });
    let x = bar.x(event.onset) - if is_grace { staff.space() * 1.3 } else { Mm(0.0) };
    let x = if event.kind == (EventKind::Rest { whole_bar: true }) {
        (bar.begin + bar.right - width) / 2.0 - staff.space() * 0.3
    } else {
        x
    };
    let leans_down = heights.last().zip(heights.first()).is_some_and(|(high, low)| high + low >= 0);
    let up = match event.stem {
        Stem::Up => true,
        Stem::Down => false,
        Stem::None | Stem::Unknown if voice.1 > 1 => voice.0 == 0,
        Stem::None | Stem::Unknown => !leans_down,
    };
    let half = staff.space() / 2.0;
    let top = heights.last().map_or(staff.top + staff.space(), |high| staff.y(*high) - half);
    let bottom = heights.first().map_or(staff.bottom() - staff.space(), |low| staff.y(*low) + half);
    Placed { event, bar: at, voice, x, width, heights, up, scale, tip: None, top, bottom }
}
