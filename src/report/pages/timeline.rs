//! Who plays when: one sheet; rows are players in score order, columns stretches between landmarks, width is time.

use super::{frame::Frame, style};
use crate::geometry::Rect;
use crate::place::{BarIdx, BarSpan};
use crate::report::pdf::{
    Align, Document, Elem, Face, Grey, Ink, Paint, Points, Tag, Target, TextStyle, at, shortened, text_width,
};
use crate::score::Score;
use crate::survey::{Landmark, Timeline};
use crate::units::{Mm, Seconds};

/// Room for the names of the players.
const NAMES: Mm = Mm(38.0);
/// Room for movement titles, tempo, metre, letters and time above the rows.
const HEAD: Mm = Mm(21.0);
/// Movement titles; tempo and metre; letters; time.
const ROWS: usize = 4;
/// From one of their baselines to the next.
const ROW: Mm = Mm(4.2);
/// Rows of players are never higher; a quartet needs no more.
const HIGHEST_ROW: Mm = Mm(7.0);

/// Draws the sheet; nothing when the time of the music is not known.
pub fn draw(doc: &mut Document, frame: &Frame<'_>, score: &Score, timeline: &Timeline) {
    let Some(axis) = Axis::of(score) else { return };
    let sheet = frame.sheet(doc);
    let section = doc.element(doc.root(), Tag::Sect);
    doc.anchor("who-plays-when", sheet, Mm::ZERO);
    let area = style::content();
    let mut canvas = doc.page(sheet);
    let heading = canvas.element(section, Tag::H1);
    canvas.tagged(heading, |ink| {
        ink.text(at(area.left, area.top + Mm(5.0)), Align::Left, &style::HEADING, "Who plays when");
    });
    let legend = canvas.element(section, Tag::P);
    canvas.tagged(legend, |ink| {
        let text = "Width is time, played straight through without repeats. Black: plays. White: rests.";
        ink.text(at(area.right, area.top + Mm(5.0)), Align::Right, &style::SMALL.in_grey(style::quiet()), text);
    });
    let chart = Chart { score, timeline, axis, area: Rect { top: area.top + Mm(9.0), ..area } };
    let figure: Elem = canvas.element(section, Tag::Figure { alt: chart.in_words(), area: chart.area });
    canvas.tagged(figure, |ink| chart.draw(ink));
    frame.bookmark(doc, "Who plays when", Target::anchor("who-plays-when"));
}

/// Seconds from the beginning at which each bar starts, with the end of the last one.
struct Axis {
    starts: Vec<Seconds>,
}

impl Axis {
    fn of(score: &Score) -> Option<Axis> {
        let mut starts = vec![Seconds::ZERO];
        let mut now = Seconds::ZERO;
        for bar in &score.bars {
            now += bar.seconds?;
            starts.push(now);
        }
        (now > Seconds::ZERO).then_some(Axis { starts })
    }

    fn end(&self) -> Seconds {
        self.starts.last().copied().unwrap_or_default()
    }

    fn start(&self, bar: BarIdx) -> Seconds {
        self.starts.get(bar.at()).copied().unwrap_or_else(|| self.end())
    }

    fn end_of(&self, bar: BarIdx) -> Seconds {
        self.starts.get(bar.at() + 1).copied().unwrap_or_else(|| self.end())
    }
}

struct Chart<'a> {
    score: &'a Score,
    timeline: &'a Timeline,
    axis: Axis,
    area: Rect,
}

impl Chart<'_> {
    fn row_height(&self) -> Mm {
        let rows = self.timeline.plays.len().max(1) as f64;
        ((self.area.height() - HEAD) / rows).min(HIGHEST_ROW)
    }

    fn x(&self, seconds: Seconds) -> Mm {
        let left = self.area.left + NAMES;
        left + (self.area.right - left) * (seconds / self.axis.end())
    }

    fn draw(&self, ink: &mut Ink<'_>) {
        let top = self.area.top + HEAD;
        let row = self.row_height();
        let bottom = top + row * self.timeline.plays.len() as f64;
        self.draw_landmarks(ink, top, bottom);
        for (at_row, (part, plays)) in self.timeline.plays.iter().enumerate() {
            let from = top + row * at_row as f64;
            let size = Points::from_mm((row * 0.72).min(Mm(3.0)));
            let name = self.score.parts.get(part.at()).map_or("", |part| part.name.as_str());
            let name_style = TextStyle::new(Face::Regular, size);
            let name = shortened(name_style.face, size, name, NAMES - Mm(3.0));
            ink.text(at(self.area.left + NAMES - Mm(2.0), from + row * 0.72), Align::Right, &name_style, &name);
            for span in plays {
                let inset = row * 0.16;
                let left = self.x(self.axis.start(span.first));
                let right = self.x(self.axis.end_of(span.last));
                ink.rect(Rect::new(left, from + inset, right, from + row - inset), &Paint::fill(Grey::BLACK));
            }
            let below = from + row;
            let line = style::HAIR.in_grey(Grey::new(0.75));
            ink.line(at(self.area.left + NAMES, below), at(self.area.right, below), &line);
        }
    }

    fn draw_landmarks(&self, ink: &mut Ink<'_>, top: Mm, bottom: Mm) {
        let mut free = [self.area.left; ROWS];
        for mark in &self.timeline.landmarks {
            let x = self.x(mark.starts);
            let stroke = if mark.movement.is_some() { style::THIN } else { style::HAIR.in_grey(Grey::new(0.6)) };
            ink.line(at(x, top - Mm(1.0)), at(x, bottom), &stroke);
            for ((row, told), free) in words(mark).into_iter().enumerate().zip(&mut free) {
                let Some((text, look)) = told else { continue };
                let width = text_width(look.face, look.size, &text);
                let left = x.min(self.area.right - width);
                // Words that would run into those before them are left out.
                if *free <= left {
                    ink.text(at(left, top - HEAD + Mm(3.0) + ROW * row as f64), Align::Left, &look, &text);
                    *free = left + width + Mm(1.2);
                }
            }
        }
        ink.line(at(self.area.left + NAMES, top), at(self.area.right, top), &style::THIN);
        let end = self.x(self.axis.end());
        ink.line(at(end, top - Mm(1.0)), at(end, bottom), &style::THIN);
    }

    /// The picture in words: how much each player plays and the longest silence.
    fn in_words(&self) -> String {
        let mut text = format!("Who plays when, over {}. ", self.axis.end().clock());
        for (part, plays) in &self.timeline.plays {
            let name = self.score.parts.get(part.at()).map_or("", |part| part.name.as_str());
            let played: Seconds =
                plays.iter().map(|span| self.axis.end_of(span.last) - self.axis.start(span.first)).sum();
            if plays.is_empty() {
                text.push_str(&format!("{name}: silent throughout. "));
                continue;
            }
            text.push_str(&format!("{name}: plays {}", played.clock()));
            if let Some((silence, from, to)) = self.longest_silence(plays) {
                let (from, to) = (self.score.label(from), self.score.label(to));
                text.push_str(&format!(", longest silence {} in bars {from} to {to}", silence.clock()));
            }
            text.push_str(". ");
        }
        text.trim_end().to_owned()
    }

    fn longest_silence(&self, plays: &[BarSpan]) -> Option<(Seconds, BarIdx, BarIdx)> {
        let last = BarIdx(u32::try_from(self.score.bars.len().checked_sub(1)?).ok()?);
        let mut silences = Vec::new();
        let mut next = BarIdx(0);
        for span in plays {
            if span.first > next {
                silences.push((next, BarIdx(span.first.0 - 1)));
            }
            next = BarIdx(span.last.0 + 1);
        }
        if next <= last {
            silences.push((next, last));
        }
        let seconds = |(from, to): (BarIdx, BarIdx)| (self.axis.end_of(to) - self.axis.start(from), from, to);
        silences.into_iter().map(seconds).max_by(|a, b| a.0.0.total_cmp(&b.0.0))
    }
}

/// Texts over one landmark, row by row from the top.
fn words(mark: &Landmark) -> [Option<(String, TextStyle)>; ROWS] {
    let bold = |size| TextStyle::new(Face::Bold, Points(size));
    let italic = TextStyle::new(Face::Italic, Points(6.5));
    let small = TextStyle::new(Face::Regular, Points(6.0)).in_grey(style::quiet());
    let tempo = mark.tempo.as_deref().map(style::tempo);
    let tempo: Vec<String> = tempo.into_iter().chain(mark.metre.clone()).collect();
    [
        mark.movement.clone().map(|title| (title, bold(7.5))),
        (!tempo.is_empty()).then(|| (tempo.join("  "), italic)),
        mark.rehearsal.clone().map(|letter| (letter, bold(8.0))),
        Some((mark.starts.clock(), small)),
    ]
}
