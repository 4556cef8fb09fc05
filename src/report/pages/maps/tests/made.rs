//! A made-up work: an orchestra of 23 staves, one system a page, six bars a system.

use crate::geometry::{Margins, Rect};
use crate::layout::{Known, Layout, Origin, Page, PageKind, PrintedBar, PrintedStaff, Side, StaffRole, System};
use crate::place::{BarIdx, BarSpan, PageIdx, PartId, Place, StaffId};
use crate::rules::{Finding, Key, Scope, Weight};
use crate::score::{Bar, Family, Part, Score, Staff, SystemMark, SystemMarkKind};
use crate::survey::{CellDensity, Density, Gap, GapKind, Opening, Survey, Tightest};
use crate::units::{Fraction, Mm};

pub const STAVES: usize = 23;
const BARS: u32 = 6;
const STAFF: Mm = Mm(5.0);

pub struct Work {
    pub score: Score,
    pub layout: Layout,
    pub survey: Survey,
}

/// The work on so many pages, the first a recto.
pub fn work(pages: u32) -> Work {
    let layout = Layout { pages: (0..pages).map(page).collect(), ..Layout::default() };
    let openings = openings(pages);
    let bars = pages * BARS;
    let cell = |at: u32| CellDensity {
        symbols: 4.0,
        per_100_spaces: (!at.is_multiple_of(7)).then_some((at * 37 % 101) as f32),
        sounds: !at.is_multiple_of(7),
    };
    let cells = (0..bars * STAVES as u32).map(cell).collect();
    let gaps = (0..pages).map(gap).collect();
    let density = Density { staves: STAVES, cells };
    Work { score: score(bars), layout, survey: Survey { density, gaps, openings, ..Survey::default() } }
}

/// A finding in the gap below a staff, over some bars of a page.
pub fn in_gap(page: u32, staff: usize, bars: std::ops::Range<u32>, weight: Weight) -> Finding {
    let top = top(staff) + STAFF;
    let rect = Rect::new(bar_left(bars.start), top, bar_left(bars.end), self::top(staff + 1));
    let first = page * BARS;
    let span = BarSpan::new(BarIdx(first + bars.start), BarIdx(first + bars.end - 1));
    let place = Place { page: Some(PageIdx(page)), rect: Some(rect), bars: Some(span), ..Place::default() };
    finding(weight, Scope::Bar, vec![place], &format!("Staves {} and {} are too close: 3.2 mm.", staff + 1, staff + 2))
}

pub fn finding(weight: Weight, scope: Scope, places: Vec<Place>, message: &str) -> Finding {
    Finding {
        key: Key { rule: "staves-too-close", scope, staff: String::new(), anchor: None, nth: 0 },
        rule: "staves-too-close",
        weight,
        places,
        worst: 0,
        found: "3.2 mm".to_owned(),
        limit: "4 mm".to_owned(),
        source: "common practice".to_owned(),
        message: message.to_owned(),
        remedy: "Give these two staves more room, or move the dynamics of bar 12 below the staff.".to_owned(),
    }
}

fn top(staff: usize) -> Mm {
    // Families stand further apart.
    let family = [8, 12, 16].iter().filter(|first| staff >= **first).count();
    Mm(40.0 + staff as f64 * 13.0 + family as f64 * 6.0)
}

fn bar_left(bar: u32) -> Mm {
    Mm(40.0 + f64::from(bar) * 36.0)
}

fn page(at: u32) -> Page {
    let side = if at.is_multiple_of(2) { Side::Recto } else { Side::Verso };
    let margins = Margins { left: Mm(15.0), right: Mm(15.0), top: Mm(20.0), bottom: Mm(20.0) };
    let staff = |staff: usize| PrintedStaff {
        staff: Some(StaffId(staff as u16)),
        lines: if staff == 14 { 1 } else { 5 },
        top: top(staff),
        height: STAFF,
        role: StaffRole::Normal,
        placed: Origin::Recorded,
        sized: Origin::Recorded,
    };
    let bar = |bar: u32| PrintedBar {
        left: bar_left(bar),
        right: bar_left(bar + 1),
        bars: Some(BarSpan::one(BarIdx(at * BARS + bar))),
        placed: Origin::Recorded,
    };
    let rect = Rect::new(bar_left(0), top(0), bar_left(BARS), top(STAVES - 1) + STAFF);
    let system = System {
        rect,
        staves: (0..STAVES).map(staff).collect(),
        bars: (0..BARS).map(bar).collect(),
        divider_above: None,
        breaks: Origin::Recorded,
        stretch: None,
    };
    Page {
        size: Known::recorded((Mm(275.0), Mm(400.0))),
        margins: Known::recorded(margins),
        side,
        label: (at + 1).to_string(),
        kind: PageKind::Music,
        breaks: Origin::Recorded,
        systems: vec![system],
        texts: Vec::new(),
        seen: None,
    }
}

fn openings(pages: u32) -> Vec<Opening> {
    let first = Opening { pages: vec![PageIdx(0)], bars: None, seconds: None, after_turn: Vec::new() };
    let pair = |verso: u32| Opening {
        pages: (verso..(verso + 2).min(pages)).map(PageIdx).collect(),
        bars: None,
        seconds: None,
        after_turn: Vec::new(),
    };
    std::iter::once(first).chain((1..pages).step_by(2).map(pair)).collect()
}

fn gap(page: u32) -> Gap {
    let tightest = Some(Tightest { bar: BarIdx(page * BARS + 2), needed: Mm(6.0) });
    let (top, height) = (top(4) + STAFF, Mm(8.0));
    let (page, kind) = (PageIdx(page), GapKind::Family);
    let spaces = height.in_spaces(STAFF);
    Gap { page, system: 0, kind, upper: StaffId(4), lower: StaffId(5), top, height, spaces, tightest }
}

fn score(bars: u32) -> Score {
    let names = "Picc Fl1 Fl2 Ob1 Ob2 Cl1 Cl2 Bn Hn1 Hn2 Tpt Tbn Timp Perc Tri Hp Hp Pf VnI VnII Va Vc Db";
    let family = |at: usize| match at {
        0..8 => Family::Woodwind,
        8..12 => Family::Brass,
        12..15 => Family::Percussion,
        15..18 => Family::Keyboard,
        _ => Family::Strings,
    };
    let part = |(at, name): (usize, &str)| Part { name: name.to_owned(), family: family(at), ..Part::default() };
    let bar =
        |at: u32| Bar { label: (at + 1).to_string(), length: Fraction::whole(4), times_played: 1, ..Bar::default() };
    let mark = |bar: u32, kind: SystemMarkKind| SystemMark {
        bar: BarIdx(bar),
        onset: Fraction::ZERO,
        kind,
        over: vec![StaffId(0)],
        at: crate::score::Position::default(),
    };
    let tempo =
        |words: &str| SystemMarkKind::Tempo { words: words.to_owned(), metronome: None, quarters_per_minute: None };
    Score {
        title: Some("A made-up work".to_owned()),
        bars: (0..bars).map(bar).collect(),
        parts: names.split(' ').enumerate().map(part).collect(),
        staves: (0..STAVES).map(|at| Staff { part: PartId(at as u16), number: 1 }).collect(),
        marks: vec![
            mark(6, SystemMarkKind::Rehearsal("A".to_owned())),
            mark(6, tempo("Allegro ma non troppo")),
            mark(14, tempo("rit.")),
        ],
        ..Score::default()
    }
}
