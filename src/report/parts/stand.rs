//! The pages of a part as they lie on the stand: facing pages touch, a heavy bar stands where the player turns.

use std::collections::BTreeMap;

use super::words;
use crate::check::{PartChecked, PartsChecked};
use crate::geometry::Rect;
use crate::layout::{Layout, Page, Side, System};
use crate::place::{BarSpan, PageIdx};
use crate::players::Player;
use crate::report::pages::style;
use crate::report::pdf::{Align, Drawing, Face, Grey, Ink, Paint, Points, TextStyle, at, text_width};
use crate::score::{Score, SystemMarkKind};
use crate::units::Mm;

/// Width of a page in the picture of a part of up to so many pages.
const WIDTHS: [(usize, Mm); 3] = [(5, Mm(42.0)), (9, Mm(28.0)), (16, Mm(24.0))];
/// Where there are more.
const SMALL_PAGE: Mm = Mm(17.5);
/// Between pages that do not face each other.
const BETWEEN: Mm = Mm(5.0);
/// Room for the number of a turn above the pages.
const ABOVE: Mm = Mm(4.0);
/// Room for page numbers below them.
const BELOW: Mm = Mm(3.5);

/// The picture of the pages at hand.
pub(super) fn drawing(part: &PartChecked, checked: &PartsChecked) -> Drawing {
    let layout = part.layout();
    let turns: BTreeMap<PageIdx, usize> =
        words::turns(part).iter().zip(1..).map(|(turn, number)| (turn.page, number)).collect();
    let letters = letters(&checked.score);
    let pages: Vec<Picture> = layout
        .pages
        .iter()
        .enumerate()
        .map(|(at, page)| Picture::of(page, &part.player, &letters, turns.get(&PageIdx(at as u32)).copied()))
        .collect();
    let width = WIDTHS.iter().find(|(most, _)| pages.len() <= *most).map_or(SMALL_PAGE, |(_, width)| *width);
    let paper = part.paper();
    let ratio = paper.1 / paper.0;
    let rows = rows(&pages, width, style::content().width());
    let row_height = ABOVE + width * ratio + BELOW;
    let alt = in_words(layout, part, checked);
    let height = row_height * rows.len() as f64;
    Drawing::new(height, alt, move |ink, area| {
        for (nth, row) in rows.iter().enumerate() {
            let mut left = area.left;
            let top = area.top + row_height * nth as f64 + ABOVE;
            for picture in pages.get(row.clone()).unwrap_or_default() {
                let paper = Rect::new(left, top, left + width, top + width * ratio);
                picture.draw(ink, paper);
                left = paper.right + picture.gap();
            }
        }
    })
    .spaced(Mm(1.0), Mm(1.0))
}

/// Pages of each row; facing pages are never parted.
fn rows(pages: &[Picture], width: Mm, room: Mm) -> Vec<std::ops::Range<usize>> {
    let mut rows: Vec<std::ops::Range<usize>> = Vec::new();
    let (mut from, mut used) = (0, Mm::ZERO);
    let mut at = 0;
    while at < pages.len() {
        let together = pages.get(at..).unwrap_or_default().iter().take_while(|page| page.touches_next).count() + 1;
        let end = (at + together).min(pages.len());
        let needed = width * (end - at) as f64 + BETWEEN;
        if used > Mm::ZERO && used + needed > room {
            rows.push(from..at);
            (from, used) = (at, Mm::ZERO);
        }
        used += needed;
        at = end;
    }
    rows.push(from..pages.len());
    rows
}

/// Letters of the rehearsal marks, by bar.
fn letters(score: &Score) -> BTreeMap<u32, String> {
    let letter = |mark: &crate::score::SystemMark| match &mark.kind {
        SystemMarkKind::Rehearsal(text) => Some((mark.bar.0, text.clone())),
        _ => None,
    };
    score.marks.iter().filter_map(letter).collect()
}

/// One page, ready to be drawn.
struct Picture {
    number: String,
    lines: Vec<Line>,
    turn: Option<usize>,
    /// The next page lies beside it without a turn.
    touches_next: bool,
}

/// One system: its height on the page and its stretches, all as shares of the page.
struct Line {
    top: f64,
    height: f64,
    stretches: Vec<Stretch>,
}

struct Stretch {
    left: f64,
    right: f64,
    plays: bool,
    /// Of bars, where it is a rest.
    bars: u32,
    letter: Option<String>,
}

impl Picture {
    fn of(page: &Page, player: &Player, letters: &BTreeMap<u32, String>, turn: Option<usize>) -> Picture {
        let lines = page.systems.iter().map(|system| Line::of(system, page, player, letters)).collect();
        Picture { number: page.label.clone(), lines, turn, touches_next: page.side == Side::Verso && turn.is_none() }
    }

    fn gap(&self) -> Mm {
        if self.touches_next { Mm::ZERO } else { BETWEEN }
    }

    fn draw(&self, ink: &mut Ink<'_>, paper: Rect) {
        ink.rect(paper, &Paint::both(Grey::WHITE, style::HAIR));
        for line in &self.lines {
            line.draw(ink, paper);
        }
        let number = TextStyle::new(Face::Regular, Points(6.0)).in_grey(style::quiet());
        let middle = paper.left + paper.width() / 2.0;
        ink.text(at(middle, paper.bottom + Mm(2.6)), Align::Centre, &number, &self.number);
        if let Some(turn) = self.turn {
            let x = paper.right + BETWEEN / 2.0;
            ink.rect(Rect::new(x - Mm(0.6), paper.top, x + Mm(0.6), paper.bottom), &Paint::fill(Grey::BLACK));
            let bold = TextStyle::new(Face::Bold, Points(7.5));
            ink.text(at(x, paper.top - Mm(1.0)), Align::Centre, &bold, &turn.to_string());
        }
    }
}

impl Line {
    fn of(system: &System, page: &Page, player: &Player, letters: &BTreeMap<u32, String>) -> Line {
        let (width, height) = page.size.value;
        let stretch = |printed: &crate::layout::PrintedBar| {
            let span = printed.bars?;
            Some(Stretch {
                left: printed.left / width,
                right: printed.right / width,
                plays: sounds(player, span),
                bars: span.count(),
                letter: span.iter().find_map(|bar| letters.get(&bar.0).cloned()),
            })
        };
        Line {
            top: system.rect.top / height,
            height: (system.rect.bottom - system.rect.top) / height,
            stretches: joined(system.bars.iter().filter_map(stretch).collect()),
        }
    }

    fn draw(&self, ink: &mut Ink<'_>, paper: Rect) {
        let top = paper.top + paper.height() * self.top;
        // Large pages have room for larger figures.
        let scale = paper.width() / Mm(24.0);
        let bottom = top + (paper.height() * self.height).max(Mm(0.9) * scale.max(1.0));
        let size = Points((4.5 * scale).clamp(4.5, 5.5));
        for own in &self.stretches {
            let (left, right) = (paper.left + paper.width() * own.left, paper.left + paper.width() * own.right);
            let area = Rect::new(left, top, right, bottom);
            if own.plays {
                ink.rect(area, &Paint::fill(Grey::BLACK));
            } else {
                ink.rect(area, &Paint::both(Grey::WHITE, style::HAIR.in_grey(style::quiet())));
                let look = TextStyle::new(Face::Regular, size);
                let text = own.bars.to_string();
                if own.bars > 1 && text_width(look.face, look.size, &text) < area.width() {
                    let middle = (top + bottom) / 2.0;
                    ink.text(at((left + right) / 2.0, middle + Mm(0.12) * size.0), Align::Centre, &look, &text);
                }
            }
            if let Some(letter) = &own.letter {
                let look = TextStyle::new(Face::Bold, size);
                ink.text(at(left, top - Mm(0.3)), Align::Left, &look, letter);
            }
        }
    }
}

/// Neighbouring bars that play are one stretch, up to the next letter.
fn joined(stretches: Vec<Stretch>) -> Vec<Stretch> {
    let mut joined: Vec<Stretch> = Vec::new();
    for own in stretches {
        match joined.last_mut() {
            Some(last) if last.plays && own.plays && own.letter.is_none() => last.right = own.right,
            _ => joined.push(own),
        }
    }
    joined
}

fn sounds(player: &Player, span: BarSpan) -> bool {
    let staves = player.music.staves.len();
    let cells = |bar: crate::place::BarIdx| player.music.cells.get(bar.at() * staves..(bar.at() + 1) * staves);
    span.iter().filter_map(cells).flatten().any(crate::score::Cell::sounds)
}

fn in_words(layout: &Layout, part: &PartChecked, checked: &PartsChecked) -> String {
    let pages = crate::words::counted_in_words(layout.pages.len(), "page");
    let turns: Vec<String> =
        words::turns(part).iter().map(|turn| words::label(turn.point.after, &checked.score)).collect();
    let turns = match turns.len() {
        0 => "The player never turns.".to_owned(),
        1 => format!("The player turns once, after bar {}.", turns.concat()),
        _ => format!("The player turns after the bars {}.", crate::words::listed(turns)),
    };
    format!(
        "The {pages} of {} as they lie on the music stand, line by line: black where the player plays, white where the \
         player rests. {turns}",
        part.player.name
    )
}
