//! The pages that differ most, old beside new, at one scale.

use std::collections::BTreeSet;

use super::words;
use crate::check::{Compared, Draft};
use crate::compare::PagePair;
use crate::geometry::Rect;
use crate::layout::{Page, PrintedBar};
use crate::place::{BarIdx, BarSpan, PageIdx};
use crate::reference::Plate;
use crate::report::pages::beside;
use crate::report::pages::frame::Frame;
use crate::report::pages::style;
use crate::report::pdf::{Align, Document, Ink, Point, Tag, Target, at, shortened};
use crate::score::Score;
use crate::units::Mm;
use crate::words::in_words;

/// Pairs that are shown.
const MOST: usize = 3;
/// How the pairs' sentences begin: with the same words they would look like running heads.
const RANKS: [&str; MOST] = ["Furthest apart", "Second", "Third"];
/// Pages that differ by less are the same page.
const A_LITTLE: f64 = 0.05;
/// Between the two pages.
const GAP: Mm = Mm(16.0);
/// Title and captions above the pages.
const HEAD: Mm = Mm(24.0);
/// Of the strip over a system's bars.
const STRIP: Mm = Mm(1.4);

pub(super) const TITLE: &str = "Pages that differ most";

/// Whether there is anything to show.
pub(super) fn any(compared: &Compared) -> bool {
    !worst(compared).is_empty()
}

/// The pairs that differ most, the worst first.
fn worst(compared: &Compared) -> Vec<(&PagePair, &Page, &Page)> {
    let Some((old, new)) = compared.sides() else { return Vec::new() };
    let mut pairs: Vec<(&PagePair, &Page, &Page)> = compared
        .pages
        .pairs
        .iter()
        .filter(|pair| pair.differs > A_LITTLE)
        .filter_map(|pair| Some((pair, with_music(old, pair.old)?, with_music(new, pair.new)?)))
        .collect();
    pairs.sort_by(|one, other| other.0.differs.total_cmp(&one.0.differs).then(one.0.new.cmp(&other.0.new)));
    pairs.truncate(MOST);
    pairs
}

fn with_music(draft: &Draft, at: Option<PageIdx>) -> Option<&Page> {
    draft.checked.layout.pages.get(at?.at()).filter(|page| !page.systems.is_empty())
}

/// One sheet a pair; none where no page differs.
pub(super) fn draw(doc: &mut Document, frame: &Frame<'_>, compared: &Compared) {
    let Some((old, new)) = compared.sides() else { return };
    let pairs = worst(compared);
    for (nth, (pair, old_page, new_page)) in pairs.iter().enumerate() {
        let section = doc.element(doc.root(), Tag::Sect);
        let sheet = frame.sheet(doc);
        if nth == 0 {
            doc.anchor("pairs", sheet, Mm::ZERO);
            frame.bookmark(doc, TITLE, Target::anchor("pairs"));
        }
        let mut canvas = doc.page(sheet);
        let area = style::content();
        let heading = canvas.element(section, Tag::H1);
        let title = format!("{TITLE}: {} of {}", in_words(nth + 1), in_words(pairs.len()));
        canvas.tagged(heading, |ink| ink.text(at(area.left, area.top + Mm(4.0)), Align::Left, &style::HEADING, &title));
        let said = canvas.element(section, Tag::P);
        canvas.tagged(said, |ink| {
            let rank = RANKS.get(nth).copied().unwrap_or("Then");
            let told = format!("{rank}: {}", words::pair(pair, old_page, new_page, compared));
            let told = shortened(style::BODY.face, style::BODY.size, &told, area.width());
            ink.text(at(area.left, area.top + Mm(9.5)), Align::Left, &style::BODY, &told);
        });
        let half = (area.width() - GAP) / 2.0;
        let plates = [Plate::of(old_page), Plate::of(new_page)];
        let scale = beside::scale(&[&plates[0], &plates[1]], half, area.bottom - area.top - HEAD);
        let (on_old, on_new) = (bars(old_page), bars(new_page));
        let has_music = compared.pages_only.is_none();
        let of_old = |bar: BarIdx| compared.matched.to_new(bar).is_some_and(|bar| on_new.contains(&bar));
        let of_new = |bar: BarIdx| compared.matched.to_old(bar).is_some_and(|bar| on_old.contains(&bar));
        let is_on_other: [&dyn Fn(BarIdx) -> bool; 2] = [&of_old, &of_new];
        let sides = [
            (&plates[0], old, old_page, pair.old, "Old draft", area.left),
            (&plates[1], new, new_page, pair.new, "New draft", area.left + half + GAP),
        ];
        for ((plate, draft, page, at_page, whose, left), is_on_other) in sides.into_iter().zip(is_on_other) {
            let score = &draft.checked.score;
            let span = page.span().filter(|_| has_music);
            let bars = span.map_or_else(String::new, |span| format!(", {}", score.span_label(span)));
            let caption = canvas.element(section, Tag::P);
            let top = area.top + Mm(16.0);
            let label = at_page.map_or_else(String::new, |page| draft.checked.layout.page_label(page));
            let name = format!("{whose}, page {label}{bars}");
            canvas.tagged(caption, |ink| {
                ink.text(at(left, top), Align::Left, &style::BODY_BOLD, &name);
                let told = beside::words(plate, scale);
                let hatched = page.systems.iter().flat_map(|system| &system.bars).any(|bar| is_alone(bar, is_on_other));
                let hatched = if has_music && hatched { " Hatched: not on the other page." } else { "" };
                ink.text(at(left, top + Mm(4.5)), Align::Left, &style::SMALL, &(told + hatched));
            });
            let corner = at(left, area.top + HEAD);
            let paper = Rect::new(left, corner.y, left + plate.page.0 * scale, corner.y + plate.page.1 * scale);
            let alt = format!("{name}: its staves and barlines as they stand on the paper.");
            let figure = canvas.element(section, Tag::Figure { alt, area: paper });
            canvas.tagged(figure, |ink| {
                beside::page(ink, plate, left, corner.y, scale);
                if has_music {
                    music(ink, page, score, is_on_other, corner, scale);
                }
            });
        }
    }
}

fn bars(page: &Page) -> BTreeSet<BarIdx> {
    let bars = page.systems.iter().flat_map(|system| &system.bars).filter_map(|bar| bar.bars);
    bars.flat_map(BarSpan::iter).collect()
}

/// Whether none of a printed bar's music stands on the other page.
fn is_alone(bar: &PrintedBar, is_on_other: &dyn Fn(BarIdx) -> bool) -> bool {
    bar.bars.is_some_and(|bars| !bars.iter().any(is_on_other))
}

/// Over each system the number of its first bar, and a hatched strip where its bars are not on the other page.
fn music(
    ink: &mut Ink<'_>,
    page: &Page,
    score: &Score,
    is_on_other: &dyn Fn(BarIdx) -> bool,
    corner: Point,
    scale: f64,
) {
    let x = |own: Mm| corner.x + own * scale;
    for system in &page.systems {
        let Some(staff) = system.staves.first() else { continue };
        let top = corner.y + staff.top * scale - STRIP - Mm(0.5);
        for run in system.bars.chunk_by(|one, other| is_alone(one, is_on_other) == is_alone(other, is_on_other)) {
            if let [first, ..] = run
                && let Some(last) = run.last()
                && is_alone(first, is_on_other)
            {
                ink.hatch(Rect::new(x(first.left), top, x(last.right), top + STRIP), Mm(0.9), &style::HAIR);
            }
        }
        if let Some(first) = system.bars.iter().find_map(|bar| bar.bars) {
            let number = score.label(first.first);
            ink.text(at(x(system.rect.left), top - Mm(0.6)), Align::Left, &style::TINY, number);
        }
    }
}
