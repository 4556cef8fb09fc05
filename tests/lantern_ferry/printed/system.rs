//! One system: staff lines, barlines, brackets, names, and the music on each staff.

use rastrum::layout::{PrintedStaff, System};
use rastrum::place::{PartId, StaffId};
use rastrum::score::{Family, GroupSymbol, Score};
use rastrum::units::Mm;

use super::bars::{self, Bar};
use super::bows;
use super::faces::Face;
use super::fine::{Fine, Staff};
use super::heads;
use super::leaf::StaffLines;
use super::line::Line;
use super::over;
use super::paint::{Paint, Side, upright};
use super::rests;
use super::signs;
use super::stems;
use super::under;

/// How thick a bracket is.
const BRACKET: Mm = Mm(0.55);
const BRACE: char = '\u{1D114}';

/// The lines of all staves.
pub fn staff_lines(paint: &mut Paint, system: &System, how: StaffLines) {
    let (left, right) = (system.rect.left, system.rect.right);
    for staff in system.staves.iter().map(on_paper) {
        let thick = Fine::of(staff.height).staff_line;
        for line in 0..5 {
            let y = staff.top + staff.space() * f64::from(line);
            match how {
                StaffLines::Rectangles => paint.rectangle((left, y - thick / 2.0), right - left, thick),
                StaffLines::Strokes | StaffLines::Form => paint.stroke((left, y), (right, y), thick),
            }
        }
    }
}

/// Everything but the staff lines. A hairpin of one staff that goes on after the system ends at another place, where
/// that is given.
pub fn draw(paint: &mut Paint, score: &Score, system: &System, overrun: Option<(StaffId, Mm)>) {
    let Some(first) = system.staves.first() else { return };
    let bars = bars::of(score, system, on_paper(first).space());
    barlines(paint, score, system, &bars);
    at_left(paint, score, system);
    over::bar_number(paint, score, system, &bars);
    for printed in &system.staves {
        let Some(id) = printed.staff else { continue };
        let staff = on_paper(printed);
        signs_of(paint, score, (id, staff), &bars);
        let overrun = overrun.filter(|(of, _)| *of == id).map(|(_, to)| to);
        music(paint, score, &bars, Line::of(score, id, staff, &bars), overrun);
    }
}

fn on_paper(printed: &PrintedStaff) -> Staff {
    Staff { top: printed.top, height: printed.height }
}

/// Clef and key at the start, the metre where it is new.
fn signs_of(paint: &mut Paint, score: &Score, (id, staff): (StaffId, Staff), bars: &[Bar]) {
    for (nth, bar) in bars.iter().enumerate() {
        let Some(cell) = score.cell(bar.span.first, id) else { continue };
        if nth == 0 {
            signs::clef(paint, staff, cell.clef, bar.left + staff.space() * 0.6);
            signs::key(paint, staff, cell.clef, key_of(score, id, bar), bar.key_at);
        }
        let metre = score.bar(bar.span.first).and_then(|bar| bar.metre.as_ref());
        if let Some((metre, x)) = metre.zip(bar.metre_at) {
            signs::metre(paint, staff, metre, x);
        }
    }
}

/// The same for all staves of a part: that of the first.
fn key_of(score: &Score, id: StaffId, bar: &Bar) -> i8 {
    let part = score.staves.get(id.at()).map(|staff| staff.part);
    let first = part.and_then(|part| score.staves_of(part).next());
    first.and_then(|first| score.cell(bar.span.first, first)).map_or(0, |cell| cell.key.fifths)
}

fn music(paint: &mut Paint, score: &Score, bars: &[Bar], mut line: Line, overrun: Option<Mm>) {
    let (Some(first), Some(last)) = (bars.first(), bars.last()) else { return };
    stems::draw(paint, score, bars, &mut line);
    for own in &line.events {
        if own.is_chord() {
            heads::draw(paint, line.staff, line.fine, own);
        } else {
            rests::draw(paint, line.staff, own);
        }
    }
    for bar in bars.iter().filter(|bar| bar.span.count() > 1) {
        let number = rests::several(paint, line.staff, bar);
        line.taken.push(number);
    }
    let space = line.staff.space();
    bows::draw(paint, &mut line, (first.begin - space * 1.2, last.right - space * 0.3));
    under::draw(paint, score, bars, &mut line, overrun);
    over::marks(paint, score, bars, &mut line);
}

/// Barlines run through families; one line joins all staves at the left.
fn barlines(paint: &mut Paint, score: &Score, system: &System, bars: &[Bar]) {
    let ids: Vec<StaffId> = system.staves.iter().filter_map(|staff| staff.staff).collect();
    let staves: Vec<Staff> = system.staves.iter().map(on_paper).collect();
    let (Some(top), Some(foot)) = (staves.first(), staves.last()) else { return };
    let thick = Fine::of(top.height).barline;
    if staves.len() > 1 {
        let left = system.rect.left;
        paint.stroke((left, top.top), (left, foot.bottom()), thick);
    }
    let places: Vec<usize> = (0..ids.len()).collect();
    for family in places.chunk_by(|a, b| are_joined(score, ids[*a], ids[*b])) {
        let (from, to) = (staves[family[0]].top, staves[family[family.len() - 1]].bottom());
        for bar in bars {
            let end = score.bar(bar.span.last).map(|bar| bar.right).unwrap_or_default();
            let x = bar.right - thick / 2.0;
            paint.stroke((x, from), (x, to), thick);
            if end.is_double || end.is_final {
                let x = x - top.space() * 0.55;
                paint.stroke((x, from), (x, to), thick);
            }
        }
    }
}

fn are_joined(score: &Score, upper: StaffId, lower: StaffId) -> bool {
    let part = |staff: StaffId| score.staves.get(staff.at()).map(|staff| staff.part);
    let (Some(upper), Some(lower)) = (part(upper), part(lower)) else { return false };
    let holds = |part: PartId, first: PartId, last: PartId| first <= part && part <= last;
    upper == lower
        || score.groups.iter().any(|group| {
            let both = holds(upper, group.first, group.last) && holds(lower, group.first, group.last);
            both && group.joins_barlines == Some(true)
        })
}

/// Brackets, braces and names.
fn at_left(paint: &mut Paint, score: &Score, system: &System) {
    let part = |staff: &PrintedStaff| staff.staff.and_then(|id| score.staves.get(id.at())).map(|staff| staff.part);
    let left = system.rect.left;
    for group in score.groups.iter().filter(|group| group.symbol == GroupSymbol::Bracket) {
        let inside = |staff: &&PrintedStaff| part(staff).is_some_and(|own| group.first <= own && own <= group.last);
        let staves: Vec<Staff> = system.staves.iter().filter(inside).map(on_paper).collect();
        if let [top, .., foot] = staves.as_slice() {
            bracket(paint, left, *top, *foot);
        }
    }
    let by_part = system.staves.chunk_by(|a, b| part(a) == part(b));
    for staves in by_part {
        let Some(own) = staves.first().and_then(part).and_then(|id| score.parts.get(id.at())) else { continue };
        let (top, foot) = (on_paper(&staves[0]), on_paper(&staves[staves.len() - 1]));
        if staves.len() > 1 && own.family == Family::Strings {
            bracket(paint, left, top, foot);
        } else if staves.len() > 1 {
            brace(paint, left, top, foot);
        }
        if score.parts.len() > 1 {
            let at = (left - top.space() * 3.0, (top.top + foot.bottom()) / 2.0 + Mm(0.95));
            paint.text(upright(Face::Regular, 8.0), at, Side::Right, &own.abbreviation);
        }
    }
}

fn bracket(paint: &mut Paint, left: Mm, top: Staff, foot: Staff) {
    let space = top.space();
    let (x, wide) = (left - space * 1.3, BRACKET);
    let (from, to) = (top.top - space * 0.5, foot.bottom() + space * 0.5);
    paint.rectangle((x, from), wide, to - from);
    for (y, way) in [(from, -1.0), (to, 1.0)] {
        let at = |across: f64, along: f64| (x + space * across, y + space * (along * way));
        paint.curved(
            at(0.0, 0.0),
            &[
                [at(0.5, 0.05), at(1.4, 0.3), at(1.9, 1.0)],
                [at(1.5, 0.1), at(0.9, -0.3), at(0.5, -0.45)],
                [at(0.3, -0.3), at(0.1, -0.15), at(0.0, 0.0)],
            ],
        );
    }
}

fn brace(paint: &mut Paint, left: Mm, top: Staff, foot: Staff) {
    let space = top.space();
    let height = foot.bottom() - top.top;
    // The sign is 0.161 wide from 0.05 on, and as high as its type.
    let across = space * (1.3 / 0.161);
    paint.stretched(BRACE, (across, height), (left - space * 1.8 - across * 0.05, foot.bottom()));
}
