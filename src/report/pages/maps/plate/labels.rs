//! Bar numbers, rehearsal marks and tempo words above the systems, none over another.

use crate::geometry::Rect;
use crate::layout::{Page, System};
use crate::report::pdf::{Align, Face, Grey, Ink, Paint, Stroke, TextStyle, at, cap_height, text_width};
use crate::score::{SystemMark, SystemMarkKind};
use crate::units::Mm;

use super::super::view::View;
use super::super::{Subject, pens};

/// Words on a drawn page.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    pub text: String,
    pub style: Style,
    /// From the height of capitals to the baseline, on the sheet; around a rehearsal mark's box.
    pub area: Rect,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    Name,
    BarNumber,
    Rehearsal,
    Tempo,
    PageNumber,
}

/// White around a rehearsal letter inside its box.
const BOX: Mm = Mm(0.5);
/// White between words, and between words and staves.
const WHITE: Mm = Mm(0.5);
/// How far a word may be moved to the right past another before it takes a row of its own.
const NUDGE: Mm = Mm(8.0);
/// Rows of words above a system.
const ROWS: u8 = 3;

impl Label {
    pub fn draw(&self, ink: &mut Ink<'_>) {
        let Rect { left, bottom, .. } = self.area;
        let inset = self.style.inset();
        if self.style == Style::Rehearsal {
            ink.rect(self.area, &Paint::both(Grey::WHITE, Stroke::new(Mm(0.12))));
        }
        // The space keeps words apart that are copied together.
        ink.text(at(left + inset, bottom - inset), Align::Left, &self.style.look(), &format!("{} ", self.text));
    }
}

impl Style {
    fn look(self) -> TextStyle {
        match self {
            Style::Name | Style::BarNumber => pens::small(),
            Style::Rehearsal | Style::Tempo => pens::small_bold(),
            Style::PageNumber => pens::number(),
        }
    }

    fn inset(self) -> Mm {
        if self == Style::Rehearsal { BOX } else { Mm::ZERO }
    }

    fn size(self, text: &str) -> (Mm, Mm) {
        let TextStyle { face, size, .. } = self.look();
        let around = self.inset() * 2.0;
        (text_width(face, size, text) + around, cap_height(Face::Bold, size) + around)
    }
}

/// All words above the systems of a page. What finds no room is left out: it is there to find one's way, no more.
#[must_use]
pub fn of(subject: &Subject<'_>, page: &Page, view: &View) -> Vec<Label> {
    let mut taken: Vec<Rect> = page.systems.iter().map(|system| view.rect(&system.rect)).collect();
    let mut labels = Vec::new();
    for system in &page.systems {
        for (style, x, text) in wanted(subject, system) {
            if let Some(area) = find(style.size(&text), view.x(x), view.y(system.rect.top), &view.paper, &taken) {
                taken.push(area);
                labels.push(Label { text, style, area });
            }
        }
    }
    labels
}

/// The printed number, under the page.
#[must_use]
pub fn page_number(page: &Page, view: &View) -> Label {
    let (style, text) = (Style::PageNumber, page.label.clone());
    let (width, height) = style.size(&text);
    let (left, top) = ((view.paper.left + view.paper.right - width) / 2.0, view.paper.bottom + Mm(1.6));
    Label { text, style, area: Rect::new(left, top, left + width, top + height) }
}

/// What stands above a system, what matters most first, each with its place along the page.
fn wanted(subject: &Subject<'_>, system: &System) -> Vec<(Style, Mm, String)> {
    let Some(span) = system.span() else { return Vec::new() };
    let number = subject.score.bar(span.first).filter(|bar| !bar.uncounted).map_or("", |bar| bar.label.as_str());
    let number = number.to_owned();
    let number = (Style::BarNumber, system.rect.left, number);
    let marks = subject.score.marks.iter().filter(|mark| span.contains(mark.bar) && !mark.over.is_empty());
    let (rehearsal, tempo): (Vec<_>, Vec<_>) = marks
        .filter_map(|mark| words(mark).map(|(style, text)| (style, x_of(subject, system, mark), text)))
        .partition(|(style, ..)| *style == Style::Rehearsal);
    let all = std::iter::once(number).chain(rehearsal).chain(tempo);
    all.filter(|(_, _, text)| !text.is_empty()).collect()
}

fn words(mark: &SystemMark) -> Option<(Style, String)> {
    let joined = |text: &str| legible(text).split_whitespace().collect::<Vec<_>>().join(" ");
    match &mark.kind {
        SystemMarkKind::Rehearsal(text) => Some((Style::Rehearsal, joined(text))),
        SystemMarkKind::Tempo { words, .. } => Some((Style::Tempo, joined(words))),
        SystemMarkKind::TempoMoves(text) => Some((Style::Tempo, joined(text))),
        SystemMarkKind::GeneralPause => Some((Style::Tempo, "G.P.".to_owned())),
        SystemMarkKind::Jump(_) => None,
    }
}

/// Without the brackets around signs that the file does not spell out in letters: "Andante ( )".
fn legible(text: &str) -> String {
    ["()", "[]"].iter().fold(text.to_owned(), |text, pair| {
        let mut halves = pair.chars();
        let (Some(opens), Some(closes)) = (halves.next(), halves.next()) else { return text };
        match text.split_once(opens) {
            Some((before, rest)) => match rest.split_once(closes) {
                Some((inside, after)) if !inside.contains(char::is_alphanumeric) => format!("{before} {after}"),
                _ => text,
            },
            None => text,
        }
    })
}

/// Where a mark stands: as far along its bar as its onset is.
fn x_of(subject: &Subject<'_>, system: &System, mark: &SystemMark) -> Mm {
    let printed = system.bars.iter().find(|printed| printed.bars.is_some_and(|bars| bars.contains(mark.bar)));
    let Some(printed) = printed else { return system.rect.left };
    let length = subject.score.bar(mark.bar).map_or(0.0, |bar| bar.length.to_f64());
    let share = if length > 0.0 { (mark.onset.to_f64() / length).clamp(0.0, 1.0) } else { 0.0 };
    printed.left + (printed.right - printed.left) * share
}

/// Just above `top`, else a little to the right, else in a higher row; never off the paper.
fn find((width, height): (Mm, Mm), x: Mm, top: Mm, paper: &Rect, taken: &[Rect]) -> Option<Rect> {
    let row = |row: u8| top - WHITE * 1.6 - (height + WHITE) * f64::from(row);
    let place = |left: Mm, bottom: Mm| Rect::new(left, bottom - height, left + width, bottom);
    let on_paper = |area: &Rect| area.right < paper.right - WHITE && area.top > paper.top + WHITE;
    let free = |area: &Rect| taken.iter().all(|other| !area.grown(WHITE * 0.6).overlaps(other));
    let fits = |area: &Rect| free(area) && on_paper(area);
    let past = || {
        let others = taken.iter().filter(|other| other.overlaps(&place(x, row(0)).grown(WHITE)));
        let moved = others.map(|other| other.right + WHITE * 2.0).reduce(Mm::max)?;
        Some(place(moved, row(0))).filter(|area| moved - x < NUDGE && fits(area))
    };
    let straight = place(x, row(0));
    if fits(&straight) {
        return Some(straight);
    }
    past().or_else(|| (1..ROWS).map(|at| place(x, row(at))).find(fits))
}
