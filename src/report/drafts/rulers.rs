//! Two rulers on one axis of music: the old draft's pages above, the new draft's below.

use std::collections::BTreeSet;

use super::axis::Axis;
use super::words;
use crate::check::{Compared, Draft, Reader};
use crate::compare::{Status, TurnFate};
use crate::geometry::Rect;
use crate::layout::Page;
use crate::report::pages::style;
use crate::report::pdf::{Align, Drawing, Face, Grey, Ink, Paint, Points, Stroke, TextStyle, at, text_width};
use crate::score::SystemMarkKind;
use crate::units::Mm;

mod hands;

/// Of one row, with what stands above and below its rulers.
const HEIGHT: Mm = Mm(34.0);
/// Above the old ruler: its page numbers.
const HEAD: Mm = Mm(6.0);
/// Of a ruler.
const RULER: Mm = Mm(4.0);
/// Between the rulers.
const BETWEEN: Mm = Mm(9.0);
/// Room for the names of the rulers.
const NAMES: Mm = Mm(14.0);
/// A bar is never narrower.
const NARROWEST: f64 = 0.6;
/// Length of the strokes at edited bars.
const EDITED: Mm = Mm(1.8);
/// Where the density changed.
const CHANGED: f64 = 0.72;

/// Everything that is drawn, by places on the axis.
#[derive(Clone, Debug, Default)]
struct Marks {
    /// One letter a place: '=' in both drafts, '-' out, '+' in, 'm' moved away, 'M' moved here.
    kinds: Vec<char>,
    edited: Vec<bool>,
    dense: Vec<bool>,
    /// Where pages begin on either ruler: place, number, whether the conductor has turned to it.
    pages: [Vec<(usize, String, bool)>; 2],
    systems: [Vec<usize>; 2],
    moved: Vec<[usize; 4]>,
    letters: Vec<(usize, String)>,
    /// Place, whose, whether it was lost.
    turns: Vec<(usize, String, bool)>,
}

/// One picture a row.
pub(super) fn drawings(compared: &Compared, width: Mm) -> Vec<Drawing> {
    let axis = Axis::of(compared);
    let count = axis.slots.len();
    if count == 0 {
        return Vec::new();
    }
    let marks = Marks::of(compared, &axis);
    let room = (width - NAMES).0;
    let rows = ((count as f64 * NARROWEST / room).ceil() as usize).max(1);
    let in_row = count.div_ceil(rows);
    let alt = words::rulers(compared);
    (0..rows)
        .map(|row| {
            let (marks, from) = (marks.clone(), row * in_row);
            let to = (from + in_row).min(count);
            let alt = if rows == 1 { alt.clone() } else { format!("{alt} Row {} of {rows}.", row + 1) };
            Drawing::new(HEIGHT, alt, move |ink, area| marks.draw(ink, area, from, to, in_row)).spaced(Mm(1.0), Mm(0.5))
        })
        .collect()
}

impl Marks {
    fn of(compared: &Compared, axis: &Axis) -> Marks {
        let Some((old, new)) = compared.sides() else { return Marks::default() };
        let kind = |slot: &super::axis::Slot| match (slot.status, slot.old.is_some()) {
            (Status::Equal | Status::Edited, _) => '=',
            (Status::Deleted, _) => '-',
            (Status::Inserted, _) => '+',
            (Status::Moved, true) => 'm',
            (Status::Moved, false) => 'M',
        };
        let edited: BTreeSet<_> =
            compared.music.bars.iter().filter(|pair| pair.is_edited()).filter_map(|pair| pair.new).collect();
        let mut marks = Marks {
            kinds: axis.slots.iter().map(kind).collect(),
            edited: axis.slots.iter().map(|slot| slot.new.is_some_and(|bar| edited.contains(&bar))).collect(),
            dense: vec![false; axis.slots.len()],
            moved: axis.moved(&compared.music),
            ..Marks::default()
        };
        for change in &compared.pages.density {
            for place in change.bars.iter().filter_map(|bar| axis.of_new(bar)) {
                if let Some(dense) = marks.dense.get_mut(place) {
                    *dense = true;
                }
            }
        }
        let sides: [(&Draft, &dyn Fn(crate::place::BarIdx) -> Option<usize>); 2] =
            [(old, &|bar| axis.of_old(bar)), (new, &|bar| axis.of_new(bar))];
        for ((draft, place), (pages, systems)) in sides.into_iter().zip(marks.pages.iter_mut().zip(&mut marks.systems))
        {
            let layout = &draft.checked.layout;
            // Nobody turns to the first one.
            let openings = draft.checked.survey.openings.iter().skip(1);
            let openings: BTreeSet<_> = openings.filter_map(|opening| opening.pages.first().copied()).collect();
            for (page, at) in layout.pages.iter().zip(0_u32..) {
                let first = |page: &Page| page.span().and_then(|span| place(span.first));
                let own = crate::place::PageIdx(at);
                pages.extend(first(page).map(|place| (place, layout.page_label(own), openings.contains(&own))));
                systems.extend(page.systems.iter().skip(1).filter_map(|system| place(system.span()?.first)));
            }
        }
        for mark in &new.checked.score.marks {
            if let SystemMarkKind::Rehearsal(text) = &mark.kind {
                marks.letters.extend(axis.of_new(mark.bar).map(|place| (place, text.trim().to_owned())));
            }
        }
        for own in &compared.turns {
            for change in own.changes.iter().filter(|change| change.fate != TurnFate::StillBad) {
                let place = change.new_after.and_then(|bar| axis.of_new(bar));
                let place = place.or_else(|| change.old_after.and_then(|bar| axis.of_old(bar)));
                let who = match own.reader {
                    Reader::Conductor => "conductor".to_owned(),
                    Reader::Player(_) => words::document(own.reader, compared),
                };
                marks.turns.extend(place.map(|place| (place + 1, who, change.fate == TurnFate::Lost)));
            }
        }
        marks.turns.sort();
        marks
    }

    fn draw(&self, ink: &mut Ink<'_>, area: Rect, from: usize, to: usize, in_row: usize) {
        let left = area.left + NAMES;
        let bar = (area.right - left) / in_row.max(1) as f64;
        let x = |place: usize| left + bar * (place.clamp(from, to) - from) as f64;
        let old = Rect::new(left, area.top + HEAD, x(to), area.top + HEAD + RULER);
        let new = Rect::new(left, old.bottom + BETWEEN, x(to), old.bottom + BETWEEN + RULER);
        let small = TextStyle::new(Face::Regular, Points(6.5)).in_grey(style::quiet());
        ink.text(at(area.left, old.bottom - Mm(0.9)), Align::Left, &small, "old draft");
        ink.text(at(area.left, new.bottom - Mm(0.9)), Align::Left, &small, "new draft");
        let shown = |own: &&[usize; 4]| own[0] < to && own[1] >= from || own[2] < to && own[3] >= from;
        for block in self.moved.iter().filter(shown) {
            band(ink, [x(block[0]), x(block[1] + 1), x(block[2]), x(block[3] + 1)], old.bottom, new.top);
        }
        self.bars(ink, from, to, &x, &old, &new);
        let sides = [(&old, old.top - Mm(1.0), -1.0), (&new, new.bottom + Mm(3.0), 1.0)];
        for ((ruler, text, way), (pages, systems)) in sides.into_iter().zip(self.pages.iter().zip(&self.systems)) {
            let edge = if way < 0.0 { ruler.top } else { ruler.bottom };
            let within = |place: &usize| (from..to).contains(place);
            let ticks: Vec<_> = systems
                .iter()
                .filter(|place| within(place))
                .map(|place| (at(x(*place), edge), at(x(*place), edge - Mm(1.2 * way))))
                .collect();
            ink.lines(&ticks, &style::HAIR);
            let mut free = left - Mm(5.0);
            for (place, number, turned) in pages.iter().filter(|(place, ..)| within(place)) {
                let stroke = if *turned { Stroke::new(Mm(0.5)) } else { style::THIN };
                ink.line(at(x(*place), edge + Mm(1.2 * way)), at(x(*place), ruler.top + ruler.bottom - edge), &stroke);
                let look = TextStyle::new(Face::Regular, Points(6.0));
                let width = text_width(look.face, look.size, number);
                if x(*place) >= free {
                    ink.text(at(x(*place) + Mm(0.4), text), Align::Left, &look, number);
                    free = x(*place) + width + Mm(1.4);
                }
            }
        }
        self.letters(ink, from, to, &x, (old.bottom + new.top) / 2.0 + Mm(0.9));
        self.hands(ink, from, to, &x, area.bottom - Mm(3.2), area.right);
    }

    /// What became of each bar, run by run.
    fn bars(&self, ink: &mut Ink<'_>, from: usize, to: usize, x: &dyn Fn(usize) -> Mm, old: &Rect, new: &Rect) {
        let piece = |ruler: &Rect, first: usize, end: usize| Rect { left: x(first), right: x(end), ..*ruler };
        for place in (from..to).filter(|place| self.dense.get(*place) == Some(&true)) {
            let own = piece(new, place, place + 1);
            let inner = Rect { top: own.top + Mm(1.0), bottom: own.bottom - Mm(1.0), ..own };
            ink.rect(inner, &Paint::fill(Grey::new(CHANGED)));
        }
        for (ruler, changed, missing) in [(old, '-', ['+', 'M']), (new, '+', ['-', 'm'])] {
            for (first, end) in self.runs(from, to, &|kind| kind == changed) {
                ink.hatch(piece(ruler, first, end), Mm(0.9), &style::HAIR);
            }
            // One outline as far as the music goes on: edges within it would look like the beginnings of pages.
            for (first, end) in self.runs(from, to, &|kind| !missing.contains(&kind)) {
                ink.rect(piece(ruler, first, end), &Paint::stroke(style::HAIR));
            }
        }
        // Between the rulers, where no page has its tick; a bar that moved was edited where it stands now.
        let mut strokes = Vec::new();
        for place in (from..to).filter(|place| self.edited.get(*place) == Some(&true)) {
            let middle = (x(place) + x(place + 1)) / 2.0;
            strokes.push((at(middle, new.top - EDITED), at(middle, new.top)));
            if self.kinds.get(place) == Some(&'=') {
                strokes.push((at(middle, old.bottom), at(middle, old.bottom + EDITED)));
            }
        }
        ink.lines(&strokes, &Stroke::new(Mm(0.6)));
    }

    /// Places in a row of some kind: the first, and the one after the last.
    fn runs(&self, from: usize, to: usize, is: &dyn Fn(char) -> bool) -> Vec<(usize, usize)> {
        let mut start = from;
        let mut runs = Vec::new();
        let kinds = self.kinds.get(from..to).unwrap_or_default();
        for run in kinds.chunk_by(|one, other| is(*one) == is(*other)) {
            let end = start + run.len();
            if run.first().is_some_and(|kind| is(*kind)) {
                runs.push((start, end));
            }
            start = end;
        }
        runs
    }

    fn letters(&self, ink: &mut Ink<'_>, from: usize, to: usize, x: &dyn Fn(usize) -> Mm, y: Mm) {
        let bold = TextStyle::new(Face::Bold, Points(7.0));
        let mut free = Mm::ZERO;
        for (place, text) in self.letters.iter().filter(|(place, _)| (from..to).contains(place)) {
            if x(*place) >= free {
                let width = text_width(bold.face, bold.size, text);
                // Bands of moved bars pass behind them.
                let behind = Rect::new(x(*place) - Mm(0.5), y - Mm(2.3), x(*place) + width + Mm(0.5), y + Mm(0.5));
                ink.rect(behind, &Paint::fill(Grey::WHITE));
                ink.text(at(x(*place), y), Align::Left, &bold, text);
                free = x(*place) + width + Mm(1.0);
            }
        }
    }

    /// An open hand where a turn was won, a fist where one was lost.
    fn hands(&self, ink: &mut Ink<'_>, from: usize, to: usize, x: &dyn Fn(usize) -> Mm, y: Mm, right: Mm) {
        let look = TextStyle::new(Face::Regular, Points(6.0));
        let mut free = Mm::ZERO;
        let own = self.turns.iter().filter(|(place, ..)| (from + 1..=to).contains(place));
        for (place, who, lost) in own {
            let centre = at(x(*place), y);
            if *lost {
                hands::fist(ink, centre)
            } else {
                hands::open(ink, centre)
            }
            let width = text_width(look.face, look.size, who);
            let text =
                if x(*place) + width + Mm(2.0) > right { x(*place) - width - Mm(2.0) } else { x(*place) + Mm(2.0) };
            if text >= free {
                ink.text(at(text, y + Mm(0.9)), Align::Left, &look, who);
                free = text + width + Mm(2.5);
            }
        }
    }
}

/// From where a block stood to where it stands, as slanted lines.
fn band(ink: &mut Ink<'_>, [from, from_end, to, to_end]: [Mm; 4], top: Mm, bottom: Mm) {
    let hair = style::HAIR.in_grey(style::quiet());
    ink.lines(&[(at(from, top), at(to, bottom)), (at(from_end, top), at(to_end, bottom))], &style::THIN);
    // Few lines: a long band must not look grey.
    let width = (from_end - from).0.min((to_end - to).0);
    let count = ((width / 4.0) as usize).clamp(1, 4);
    let lines: Vec<_> = (1..count)
        .map(|nth| nth as f64 / count as f64)
        .map(|share| (at(from + (from_end - from) * share, top), at(to + (to_end - to) * share, bottom)))
        .collect();
    ink.lines(&lines, &hair);
}

/// What the signs mean.
pub(super) fn legend() -> Drawing {
    let alt = "Legend: hatched above, bars taken out; hatched below, bars put in; slanted lines, moved; strokes between the rulers, edited; grey, \
               density changed; thick ticks, where the conductor turns; an open hand, a turn won; a fist, a turn lost.";
    Drawing::new(Mm(5.0), alt, |ink, area| {
        let look = TextStyle::new(Face::Regular, Points(6.5)).in_grey(style::quiet());
        let y = area.top + Mm(3.4);
        let mut x = area.left + NAMES;
        let boxed = |x: Mm| Rect::new(x, y - Mm(2.2), x + Mm(5.0), y + Mm(0.4));
        let mut item = |ink: &mut Ink<'_>, draw: &dyn Fn(&mut Ink<'_>, Mm), text: &str| {
            draw(ink, x);
            ink.text(at(x + Mm(6.2), y), Align::Left, &look, text);
            x += Mm(6.2) + text_width(look.face, look.size, text) + Mm(6.0);
        };
        item(ink, &|ink, x| ink.hatch(boxed(x), Mm(0.9), &style::HAIR), "out (above), in (below)");
        item(ink, &|ink, x| band(ink, [x, x + Mm(2.5), x + Mm(2.5), x + Mm(5.0)], y - Mm(2.4), y + Mm(0.4)), "moved");
        item(
            ink,
            &|ink, x| {
                ink.line(at(x, y - Mm(2.4)), at(x + Mm(5.0), y - Mm(2.4)), &style::HAIR);
                ink.line(at(x + Mm(2.5), y - Mm(2.4)), at(x + Mm(2.5), y - Mm(0.6)), &Stroke::new(Mm(0.6)));
            },
            "edited",
        );
        item(ink, &|ink, x| ink.rect(boxed(x), &Paint::fill(Grey::new(CHANGED))), "denser, or less dense");
        item(
            ink,
            &|ink, x| {
                ink.line(at(x + Mm(1.5), y - Mm(2.4)), at(x + Mm(1.5), y + Mm(0.4)), &style::THIN);
                ink.line(at(x + Mm(4.0), y - Mm(2.4)), at(x + Mm(4.0), y + Mm(0.4)), &Stroke::new(Mm(0.5)));
            },
            "page, and after a turn",
        );
        item(ink, &|ink, x| hands::open(ink, at(x + Mm(3.5), y - Mm(0.9))), "turn won");
        item(ink, &|ink, x| hands::fist(ink, at(x + Mm(3.5), y - Mm(0.9))), "turn lost");
    })
}
