//! Stems, flags, beams, and the strokes of a tremolo.

use rastrum::score::Score;
use rastrum::units::Mm;

use super::bars::Bar;
use super::fine::Staff;
use super::line::{Line, Placed};
use super::paint::{Paint, Point};
use super::rests::beat;

/// In staff spaces.
const STEM: f64 = 3.5;
const SHORTEST: f64 = 2.9;
const BEAM: f64 = 0.5;
const NEXT_BEAM: f64 = 0.75;

/// Gives every chord its stem's end and draws stems, flags and beams.
pub fn draw(paint: &mut Paint, score: &Score, bars: &[Bar], line: &mut Line) {
    for group in groups(score, bars, &line.events) {
        match group.as_slice() {
            [only] => alone(paint, line, *only),
            many => beamed(paint, line, many),
        }
    }
    let staff = line.staff;
    for own in line.events.iter_mut().filter(|own| own.is_chord() && own.event.tremolo > 0) {
        tremolo(paint, staff, own);
    }
}

/// Chords under one beam; every other chord alone.
fn groups(score: &Score, bars: &[Bar], events: &[Placed]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (at, own) in events.iter().enumerate().filter(|(_, own)| own.is_chord()) {
        let beat = beat(score.bar(bars[own.bar].span.first).and_then(|bar| bar.metre.as_ref()));
        let which = |one: &Placed| (one.bar, one.event.voice, (one.event.onset.to_f64() / beat) as i64);
        let open = groups.iter_mut().rev().find(|group| {
            group.last().is_some_and(|last| {
                let last = &events[*last];
                last.event.beams > 0 && which(last) == which(own)
            })
        });
        match open {
            Some(group) if own.event.beams > 0 => group.push(at),
            _ => groups.push(vec![at]),
        }
    }
    groups
}

/// Where the stem stands across: at the right of heads when it goes up.
fn stem_x(own: &Placed, thick: Mm) -> Mm {
    if own.up { own.x + own.width - thick / 2.0 } else { own.x + thick / 2.0 }
}

fn has_stem(own: &Placed) -> bool {
    own.halvings() > 0
}

/// Where the stem leaves its outer head, and its length's direction: -1 upwards.
fn from(staff: Staff, own: &Placed) -> (Mm, f64) {
    if own.up { (staff.y(own.highest()), -1.0) } else { (staff.y(own.lowest()), 1.0) }
}

fn stem(paint: &mut Paint, line: &mut Line, at: usize, tip: Mm) {
    let (staff, thick) = (line.staff, line.fine.stem);
    let own = &mut line.events[at];
    let foot = if own.up { staff.y(own.lowest()) } else { staff.y(own.highest()) };
    let x = stem_x(own, thick);
    paint.stroke((x, foot), (x, tip), thick);
    own.tip = Some(tip);
    own.reach(tip);
}

fn alone(paint: &mut Paint, line: &mut Line, at: usize) {
    let staff = line.staff;
    let own = &line.events[at];
    if !has_stem(own) {
        return;
    }
    let (outer, way) = from(staff, own);
    let flags = (own.halvings() - 2).max(0);
    let longer = f64::from((flags - 1).max(0)) * NEXT_BEAM;
    let plain = outer + staff.space() * ((STEM + longer) * own.scale * way);
    // Stems of notes far from the staff reach its middle line.
    let middle = staff.y(0);
    let tip = match (own.up, own.is_grace()) {
        (_, true) => plain,
        (true, _) => plain.min(middle),
        (false, _) => plain.max(middle),
    };
    let (x, scale, has_stroke) =
        (stem_x(own, line.fine.stem), own.scale, own.event.grace == rastrum::score::Grace::Stroked);
    stem(paint, line, at, tip);
    for nth in 0..flags {
        flag(paint, (x, tip - staff.space() * (way * NEXT_BEAM * f64::from(nth) * scale)), -way, staff.space() * scale);
    }
    if has_stroke {
        let (s, y) = (staff.space(), tip - staff.space() * (way * 1.1));
        paint.stroke((x - s * 0.6, y + s * 0.5), (x + s * 0.8, y - s * 0.5), line.fine.stem);
    }
}

/// `way` is from the stem's end towards its head: 1 downwards.
fn flag(paint: &mut Paint, (x, y): Point, way: f64, space: Mm) {
    let at = |across: f64, along: f64| (x + space * across, y + space * (along * way));
    paint.curved(
        (x, y),
        &[
            [at(0.1, 0.9), at(1.5, 1.4), at(0.8, 3.0)],
            [at(1.15, 1.9), at(0.5, 1.4), at(0.0, 1.05)],
            [at(0.0, 0.7), at(0.0, 0.35), (x, y)],
        ],
    );
}

fn beamed(paint: &mut Paint, line: &mut Line, group: &[usize]) {
    let (staff, thick) = (line.staff, line.fine.stem);
    let space = staff.space();
    let members: Vec<&Placed> = group.iter().map(|at| &line.events[*at]).collect();
    let (first, last) = (members[0], members[members.len() - 1]);
    let way = from(staff, first).1;
    let (from_x, to_x) = (stem_x(first, thick), stem_x(last, thick));
    let rise = ((from(staff, last).0 - from(staff, first).0) * 0.5).max(-space).min(space);
    let slope = rise / (to_x - from_x);
    let on_slope = |own: &Placed| (stem_x(own, thick) - from_x) * slope;
    // The beam's outer edge, far enough from every head and from the middle of the staff.
    let outermost = members.iter().map(|own| {
        let beams = f64::from(own.event.beams.max(1) - 1);
        let far = from(staff, own).0 + space * ((SHORTEST + beams * NEXT_BEAM * 0.8) * way);
        let far = if own.up { far.min(staff.y(0)) } else { far.max(staff.y(0)) };
        far - on_slope(own)
    });
    let edge = if first.up {
        outermost.fold(Mm(f64::INFINITY), Mm::min)
    } else {
        outermost.fold(Mm(f64::NEG_INFINITY), Mm::max)
    };
    let tips: Vec<(Mm, Mm, u8)> =
        members.iter().map(|own| (stem_x(own, thick), edge + on_slope(own), own.event.beams)).collect();
    for (at, (_, tip, _)) in group.iter().zip(&tips) {
        stem(paint, line, *at, *tip);
    }
    for level in 1..=tips.iter().map(|(_, _, beams)| *beams).max().unwrap_or(0) {
        let inwards = space * (NEXT_BEAM * f64::from(level - 1) * -way);
        let bar = |paint: &mut Paint, (left, right): (Mm, Mm)| {
            let y = |x: Mm| edge + (x - from_x) * slope + inwards;
            let thickness = space * (BEAM * -way);
            let (left, right) = (left - thick / 2.0, right + thick / 2.0);
            paint.filled(&[
                (left, y(left)),
                (right, y(right)),
                (right, y(right) + thickness),
                (left, y(left) + thickness),
            ]);
        };
        for run in tips.chunk_by(|a, b| a.2 >= level && b.2 >= level) {
            let [(left, _, beams), ..] = run else { continue };
            let right = run[run.len() - 1].0;
            match (*beams >= level, run.len() > 1) {
                (false, _) => {}
                (true, true) => bar(paint, (*left, right)),
                // A stump towards the rest of the group.
                (true, false) if *left > from_x => bar(paint, (*left - space * 1.1, *left)),
                (true, false) => bar(paint, (*left, *left + space * 1.1)),
            }
        }
    }
}

/// Slanting strokes through the stem, or beside a whole note.
fn tremolo(paint: &mut Paint, staff: Staff, own: &mut Placed) {
    let space = staff.space();
    let strokes = f64::from(own.event.tremolo);
    let (x, middle) = match own.tip {
        Some(tip) => {
            let (outer, way) = from(staff, own);
            let x = if own.up { own.x + own.width } else { own.x };
            (x, (outer + tip) / 2.0 + space * (0.3 * way))
        }
        None => {
            let height = if own.highest() < 3 {
                staff.y(own.highest()) - space * 2.0
            } else {
                staff.y(own.lowest()) + space * 2.0
            };
            (own.centre(), height)
        }
    };
    for nth in 0..own.event.tremolo {
        let y = middle + space * (0.8 * (f64::from(nth) - (strokes - 1.0) / 2.0));
        let (half, rise, thick) = (space * 0.65, space * 0.25, space * 0.4);
        let (low, high) = (y + rise, y - rise);
        paint.filled(&[
            (x - half, low - thick / 2.0),
            (x + half, high - thick / 2.0),
            (x + half, high + thick / 2.0),
            (x - half, low + thick / 2.0),
        ]);
        own.reach(high - thick);
        own.reach(low + thick);
    }
}
