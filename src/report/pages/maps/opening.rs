//! A sheet with one opening: the pages in the middle, the words in the outer columns.

use super::choose::Opening;
use super::columns::{self, Block};
use super::marks::{self, Marked};
use super::plate::Plate;
use super::sheet::{self, Plan, TOP};
use super::stage::{Sheet, Stage};
use super::words::{self, Advice, Entry};
use super::{Subject, told};
use crate::geometry::Rect;
use crate::layout::Side;
use crate::report::pdf::{Document, Elem, Numbering, Tag, Target};

/// Words of one opening, before they are set.
struct Words {
    /// Left page, right page.
    sides: [Vec<Entry>; 2],
    /// Columns that no page of the opening needs.
    free: Vec<Rect>,
}

/// The column of the words of left and of right pages.
const SIDES: [(Side, u8); 2] = [(Side::Verso, 0), (Side::Recto, 4)];

/// How many sheets the opening takes.
#[must_use]
pub fn sheets(subject: &Subject<'_>, opening: &Opening) -> usize {
    let plan = sheet::opening(subject.layout, &opening.pages, sheet::scale(subject.layout));
    let unseated: Vec<Marked> = opening.spots.iter().map(|spot| Marked::unseated(*spot)).collect();
    let words = Words::of(subject, &plan, &unseated);
    let mut left: Vec<Block> = Vec::new();
    for (entries, (_, column)) in words.sides.iter().zip(SIDES) {
        let blocks: Vec<Block> = entries.iter().map(Entry::block).collect();
        let set = columns::beside(&blocks, &sheet::column(column, TOP)).len();
        left.extend(blocks.iter().skip(set));
    }
    let mut sheets = 1;
    left.drain(..columns::fill(&left, &words.free).len());
    while !left.is_empty() {
        left.drain(..columns::fill(&left, &sheet::columns()).len());
        sheets += 1;
    }
    sheets
}

/// Draws the opening, and further sheets when its words need them.
pub fn draw(doc: &mut Document, stage: &mut Stage<'_>, opening: &Opening) {
    let subject = stage.subject;
    let plan = sheet::opening(subject.layout, &opening.pages, sheet::scale(subject.layout));
    let plates: Vec<Plate<'_>> =
        plan.views.iter().filter_map(|(index, view)| Plate::new(subject, *index, *view)).collect();
    let marked = marks::seat(subject.layout, &plan, &plates, &opening.spots, &[]);
    let title = told::title(subject, &opening.pages);
    let line = [opening.around.as_str(), told::estimated(subject, &opening.pages)].join(" ");
    let sheet = stage.sheet(doc, &title, line.trim(), &format!("drawn at {}", plan.scale));
    let alt = told::picture(subject, opening);
    picture(doc, stage, sheet, alt, &plan, &plates, &marked);

    let words = Words::of(subject, &plan, &marked);
    let list = doc.element(sheet.section, Tag::L(Numbering::Decimal));
    let mut left_over: Vec<Entry> = Vec::new();
    for (entries, (_, column)) in words.sides.into_iter().zip(SIDES) {
        left_over.extend(beside(doc, stage, sheet, list, entries, &sheet::column(column, TOP)));
    }
    left_over = in_columns(doc, stage, sheet, list, left_over, &words.free);
    while !left_over.is_empty() {
        let page = stage.continuation(doc, sheet.section, &format!("{title}, continued"));
        let next = Sheet { page, ..sheet };
        left_over = in_columns(doc, stage, next, list, left_over, &sheet::columns());
    }
}

impl Words {
    fn of(subject: &Subject<'_>, plan: &Plan, marked: &[Marked]) -> Words {
        let mut advice = Advice::default();
        let mut free = Vec::new();
        let sides = SIDES.map(|(side, column)| {
            let column = sheet::column(column, TOP);
            let is_here = |marked: &&Marked| {
                subject.layout.pages.get(marked.spot.page.at()).is_some_and(|page| page.side == side)
            };
            let on_side: Vec<&Marked> = marked.iter().filter(is_here).collect();
            let entries = words::entries(subject.findings, &on_side, column.width(), &mut advice);
            if entries.is_empty() {
                free.push(column);
            }
            entries
        });
        free.extend(plan.below.iter().copied());
        Words { sides, free }
    }
}

/// The drawn pages as one figure, with the anchors of its marks.
pub fn picture(
    doc: &mut Document,
    stage: &mut Stage<'_>,
    sheet: Sheet,
    alt: String,
    plan: &Plan,
    plates: &[Plate<'_>],
    marked: &[Marked],
) {
    let figure = doc.element(sheet.section, Tag::Figure { alt, area: plan.room });
    let mut canvas = doc.page(sheet.page);
    canvas.tagged(figure, |ink| {
        plates.iter().for_each(|plate| plate.draw(ink));
        marks::draw(ink, marked);
    });
    for marked in marked {
        let place = marked.seat.map(|seat| seat.mark).or(marked.outline);
        stage.anchor(&mut canvas, marked.spot.number, place.map_or(plan.room.top, |rect| rect.top));
    }
}

/// Sets words beside their marks; gives back those that found no room.
pub fn beside(
    doc: &mut Document,
    stage: &Stage<'_>,
    sheet: Sheet,
    list: Elem,
    entries: Vec<Entry>,
    column: &Rect,
) -> Vec<Entry> {
    let blocks: Vec<Block> = entries.iter().map(Entry::block).collect();
    set(doc, stage, sheet, list, entries, &columns::beside(&blocks, column))
}

/// Sets words into columns from their tops; gives back those that found no room.
pub fn in_columns(
    doc: &mut Document,
    stage: &Stage<'_>,
    sheet: Sheet,
    list: Elem,
    entries: Vec<Entry>,
    columns: &[Rect],
) -> Vec<Entry> {
    let blocks: Vec<Block> = entries.iter().map(Entry::block).collect();
    set(doc, stage, sheet, list, entries, &columns::fill(&blocks, columns))
}

fn set(
    doc: &mut Document,
    stage: &Stage<'_>,
    sheet: Sheet,
    list: Elem,
    mut entries: Vec<Entry>,
    seats: &[columns::Spot],
) -> Vec<Entry> {
    let left_over = entries.split_off(seats.len().min(entries.len()));
    let linked = |number: usize| stage.entries.contains(&number).then(|| Target::anchor(super::entry_anchor(number)));
    let mut canvas = doc.page(sheet.page);
    for (entry, seat) in entries.iter().zip(seats) {
        entry.draw(&mut canvas, list, *seat, linked);
    }
    left_over
}
