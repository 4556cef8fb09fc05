//! Dynamics, hairpins and words of one staff.

use rastrum::geometry::Rect;
use rastrum::place::{BarIdx, StaffId};
use rastrum::score::{MarkKind, Score};
use rastrum::units::{Fraction, Mm};

use super::bars::Bar;
use super::faces::Face;
use super::line::Line;
use super::paint::{Paint, Side, Type};

/// Something below the staff, from where to where across.
struct Item {
    from: Mm,
    to: Mm,
    what: What,
}

enum What {
    Dynamic(String),
    /// How far open it is at its left and at its right end, from 0 to 1.
    Hairpin(f64, f64),
}

/// Half of what a hairpin opens to, in spaces.
const OPEN: f64 = 0.8;
const DYNAMICS: f64 = 2.3;
const WORDS: f64 = 2.0;

pub fn draw(paint: &mut Paint, score: &Score, bars: &[Bar], line: &mut Line, overrun: Option<Mm>) {
    words(paint, score, bars, line);
    let mut items = dynamics(paint, score, bars, line);
    let hairpins = hairpins(score, bars, line, &items, overrun);
    items.extend(hairpins);
    items.sort_by(|a, b| a.from.0.total_cmp(&b.from.0));
    let space = line.staff.space();
    let mut rest = items.as_slice();
    while !rest.is_empty() {
        // Neighbours stand on one level.
        let near = |pair: &[Item]| pair[1].from - pair[0].to < space * 2.5;
        let count = rest.windows(2).take_while(|pair| near(pair)).count() + 1;
        let (group, others) = rest.split_at(count);
        let floors = group.iter().map(|item| line.floor(item.from, item.to.min(bars[bars.len() - 1].right)));
        let level = floors.fold(line.staff.bottom(), Mm::max) + space * 1.6;
        for item in group {
            set(paint, line, item, level);
        }
        rest = others;
    }
}

fn set(paint: &mut Paint, line: &Line, item: &Item, level: Mm) {
    let space = line.staff.space();
    match &item.what {
        What::Dynamic(text) => {
            let size = space * DYNAMICS;
            let face = Type { face: Face::Bold, size, leans: true };
            paint.text(face, (item.from, level + size * 0.25), Side::Left, text);
        }
        What::Hairpin(left, right) => {
            for way in [-1.0, 1.0] {
                let at = |open: f64| level + space * (OPEN * open * way);
                paint.stroke((item.from, at(*left)), (item.to, at(*right)), line.fine.stem * 1.2);
            }
        }
    }
}

fn words(paint: &mut Paint, score: &Score, bars: &[Bar], line: &mut Line) {
    let space = line.staff.space();
    let face = Type { face: Face::Italic, size: space * WORDS, leans: false };
    for (bar, mark) in marks(score, bars, line.id) {
        let MarkKind::Words(text) = &mark.kind else { continue };
        let x = bar.x(mark.onset);
        let to = x + paint.width(face, text);
        let y = if mark.above == Some(false) {
            line.floor(x, to) + space * 2.2
        } else {
            line.ceiling(x, to).min(line.staff.top - space * 0.4) - space * 0.6
        };
        paint.text(face, (x, y), Side::Left, text);
        line.taken.push(Rect::new(x, y - face.size * 0.7, to, y + face.size * 0.2));
    }
}

fn dynamics(paint: &Paint, score: &Score, bars: &[Bar], line: &Line) -> Vec<Item> {
    let face = Type { face: Face::Bold, size: line.staff.space() * DYNAMICS, leans: true };
    let mut items = Vec::new();
    for (bar, mark) in marks(score, bars, line.id) {
        let MarkKind::Dynamic(text) = &mark.kind else { continue };
        let from = bar.x(mark.onset) - line.staff.space() * 0.2;
        items.push(Item { from, to: from + paint.width(face, text), what: What::Dynamic(text.clone()) });
    }
    items
}

fn marks<'a>(
    score: &'a Score,
    bars: &'a [Bar],
    staff: StaffId,
) -> impl Iterator<Item = (&'a Bar, &'a rastrum::score::StaffMark)> {
    bars.iter().flat_map(move |bar| {
        let cell = score.cell(bar.span.first, staff);
        cell.into_iter().flat_map(|cell| &cell.marks).map(move |mark| (bar, mark))
    })
}

/// Bar and onset.
type Moment = (BarIdx, Fraction);

/// Those of the whole movement that this system shows, or part of them.
fn hairpins(score: &Score, bars: &[Bar], line: &Line, dynamics: &[Item], overrun: Option<Mm>) -> Vec<Item> {
    let (Some(first), Some(last)) = (bars.first(), bars.last()) else { return Vec::new() };
    let mut open: Option<(Moment, bool)> = None;
    let mut items = Vec::new();
    let space = line.staff.space();
    for bar in score.all_bars().into_iter().flat_map(|all| all.iter()) {
        for mark in score.cell(bar, line.id).into_iter().flat_map(|cell| &cell.marks) {
            match mark.kind {
                MarkKind::HairpinStart { opens, .. } => open = Some(((bar, mark.onset), opens)),
                MarkKind::HairpinStop { .. } => {
                    let Some((from, opens)) = open.take() else { continue };
                    if from.0 > last.span.last || bar < first.span.first {
                        continue;
                    }
                    let comes_in = from.0 < first.span.first;
                    let goes_on = bar > last.span.last;
                    let find = |bar: BarIdx| bars.iter().find(|own| own.holds(bar));
                    let left = if comes_in { Some(first.begin - space) } else { find(from.0).map(|own| own.x(from.1)) };
                    let right = if goes_on { Some(last.right) } else { find(bar).map(|own| own.x(mark.onset)) };
                    let (Some(left), Some(right)) = (left, right) else { continue };
                    let to = overrun.filter(|_| goes_on).unwrap_or(right - space * 0.4);
                    let (narrow, wide) = if opens { (0.0, 1.0) } else { (1.0, 0.0) };
                    let from_open = if comes_in { 0.5 } else { narrow };
                    let to_open = if goes_on { 0.6 } else { wide };
                    let from = clear_of(dynamics, left, right, space).max(left);
                    items.push(Item { from, to, what: What::Hairpin(from_open, to_open) });
                }
                _ => {}
            }
        }
    }
    items
}

/// Where a hairpin may begin that has a dynamic at its left end.
fn clear_of(dynamics: &[Item], left: Mm, right: Mm, space: Mm) -> Mm {
    let at_left = dynamics.iter().find(|item| (item.from - left).abs() < space && item.to + space < right);
    at_left.map_or(left, |item| item.to + space * 0.5)
}
