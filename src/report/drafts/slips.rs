//! The errata slips: one for each reader, to be cut out and laid into the part.

use super::words;
use crate::check::Compared;
use crate::geometry::Rect;
use crate::report::blocks::list;
use crate::report::pages::frame::Frame;
use crate::report::pages::style;
use crate::report::pdf::{
    Artifact, Block, Document, Flow, Heading, Level, PageId, Paint, Paragraph, ParagraphStyle, Region, Tag, Target,
    wrap,
};
use crate::units::Mm;
use crate::words::{counted, listed};

pub(super) const TITLE: &str = "To be written in by hand";

/// Sheets of slips; more nobody cuts.
const MOST: usize = 2;
const COLUMNS: usize = 3;
/// Between two slips.
const GAP: Mm = Mm(4.0);
/// From the cut to the words.
const PADDING: Mm = Mm(2.5);
/// Title and directions on the first sheet.
const HEAD: Mm = Mm(20.0);
/// Of a line of a list, and between two items of it.
const LINE: Mm = Mm(4.45);
const BETWEEN: Mm = Mm(0.5);
/// From a bullet to its words.
const HANG: Mm = Mm(4.0);

/// What is written in one part, or as much of it as a column holds.
struct Slip {
    who: String,
    lines: Vec<String>,
    height: Mm,
}

/// Where a slip is cut out.
struct Seat {
    sheet: usize,
    area: Rect,
}

/// Whether there is anything to write in.
pub(super) fn any(compared: &Compared) -> bool {
    !words::slip_by_player(compared).is_empty()
}

/// Slips in columns, on as few sheets as they need.
pub(super) fn draw(doc: &mut Document, frame: &Frame<'_>, compared: &Compared) {
    let slips: Vec<Slip> =
        words::slip_by_player(compared).into_iter().flat_map(|(who, lines)| cut(&who, lines)).collect();
    if slips.is_empty() {
        return;
    }
    let seats = seats(&slips);
    let section = doc.element(doc.root(), Tag::Sect);
    let sheets: Vec<PageId> =
        (0..=seats.iter().map(|seat| seat.sheet).max().unwrap_or_default()).map(|_| frame.sheet(doc)).collect();
    let Some(first) = sheets.first() else { return };
    frame.bookmark(doc, TITLE, Target::anchor("slip"));
    let title = ParagraphStyle::new(style::TITLE).spaced(Mm::ZERO, Mm(1.0));
    let small = ParagraphStyle::new(style::SMALL);
    let blocks = [
        Block::Heading(Heading::new(Level::One, TITLE, title).named("slip")),
        Block::Paragraph(Paragraph::new(directions(&slips, seats.len()), small)),
    ];
    let region = Region { page: *first, area: style::content() };
    Flow::new(doc, region, |_| region).set(section, &blocks);
    for (slip, seat) in slips.iter().zip(&seats) {
        let Some(page) = sheets.get(seat.sheet) else { continue };
        let cut = style::HAIR.dashed(Mm(1.6), Mm(1.2));
        doc.page(*page).artifact(Artifact::Layout, |ink| ink.rect(seat.area, &Paint::stroke(cut)));
        let inner = Rect::new(
            seat.area.left + PADDING,
            seat.area.top + PADDING,
            seat.area.right - PADDING,
            // A hair more, so that what was measured never goes over.
            seat.area.bottom + Mm(1.0),
        );
        let region = Region { page: *page, area: inner };
        let name = ParagraphStyle::new(style::BODY_BOLD).spaced(Mm::ZERO, Mm(1.0));
        let blocks = [Block::Heading(Heading::new(Level::Two, slip.who.as_str(), name)), list(slip.lines.clone())];
        Flow::new(doc, region, |_| region).set(section, &blocks);
    }
}

/// How to use them, and who has found no room.
fn directions(slips: &[Slip], seated: usize) -> String {
    let how = "Cut along the dashed lines. Bars bear the numbers that are printed in the old draft.";
    let left: Vec<String> = slips.iter().skip(seated).map(|slip| slip.who.clone()).collect();
    if left.is_empty() {
        return how.to_owned();
    }
    format!("{how} {} had no room here, for {}; the JSON lists them.", counted(left.len(), "slip"), listed(left))
}

fn width() -> Mm {
    (style::content().width() - GAP * (COLUMNS as f64 - 1.0)) / COLUMNS as f64
}

/// As many slips as one reader's lines need, each no higher than the shortest column.
fn cut(who: &str, lines: Vec<String>) -> Vec<Slip> {
    let area = style::content();
    let most = area.height() - HEAD;
    let room = width() - PADDING * 2.0;
    let head = LINE * wrap(who, &style::BODY_BOLD, room).len() as f64 + Mm(1.0) + PADDING * 2.0;
    let mut slips: Vec<Slip> = Vec::new();
    for line in lines {
        let own = LINE * wrap(&line, &style::BODY, room - HANG).len() as f64 + BETWEEN;
        match slips.last_mut().filter(|slip| slip.height + own <= most) {
            Some(slip) => {
                slip.height += own;
                slip.lines.push(line);
            }
            None => slips.push(Slip { who: who.to_owned(), lines: vec![line], height: head + own }),
        }
    }
    slips
}

/// A place for each slip in its order, column by column, until there is no room left.
fn seats(slips: &[Slip]) -> Vec<Seat> {
    let area = style::content();
    let (mut sheet, mut column) = (0, 0);
    let top = |sheet: usize| if sheet == 0 { area.top + HEAD } else { area.top };
    let mut y = top(0);
    let mut seats = Vec::new();
    for slip in slips {
        if y + slip.height > area.bottom {
            column += 1;
            if column == COLUMNS {
                (sheet, column) = (sheet + 1, 0);
            }
            y = top(sheet);
        }
        if sheet == MOST {
            break;
        }
        let left = area.left + (width() + GAP) * column as f64;
        seats.push(Seat { sheet, area: Rect::new(left, y, left + width(), y + slip.height) });
        y += slip.height + GAP;
    }
    seats
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_stand_apart_on_their_sheets_and_too_many_are_left_out() {
        let lines = |count: usize| vec!["Bar 65: a rest of G 7 in place of G 10, H 9".to_owned(); count];
        let slips: Vec<Slip> = (1..60).flat_map(|nth| cut(&format!("Horn {nth}"), lines(nth % 7 + 1))).collect();
        let seats = seats(&slips);
        let area = style::content();
        assert!(seats.len() < slips.len());
        assert!(seats.iter().all(|seat| seat.sheet < MOST && seat.area.bottom <= area.bottom));
        assert!(seats.iter().all(|seat| seat.area.right <= area.right + Mm(0.001)));
        for pair in seats.windows(2) {
            let (one, next) = (&pair[0], &pair[1]);
            let is_below = one.area.left == next.area.left && one.area.bottom < next.area.top;
            assert!(is_below || one.area.right < next.area.left || one.sheet < next.sheet);
        }
        assert!(directions(&slips, seats.len()).contains("had no room here"));
    }

    #[test]
    fn what_no_column_holds_goes_on_another_slip() {
        let slips = cut("Score", vec!["Bar 1: a rest of 3 in place of 6".to_owned(); 90]);
        assert!(slips.len() > 1);
        assert_eq!(slips.iter().map(|slip| slip.lines.len()).sum::<usize>(), 90);
        assert!(slips.iter().all(|slip| slip.height <= style::content().height() - HEAD));
    }
}
