//! One finding on the first sheet: its mark, what was found, what to do.

use super::{HANG, LINE, MARK};
use crate::geometry::Rect;
use crate::report::pages::{mark, style};
use crate::report::pdf::{Align, Canvas, Elem, Ink, Line, Tag, Target, at, wrap};
use crate::rules::Finding;
use crate::units::Mm;

/// One finding, its lines measured.
pub(super) struct Entry<'a> {
    pub(super) number: usize,
    finding: &'a Finding,
    message: Vec<Line>,
    remedy: Vec<Line>,
}

impl<'a> Entry<'a> {
    pub(super) fn new(number: usize, finding: &'a Finding, width: Mm) -> Entry<'a> {
        let message = wrap(&finding.message, &style::BODY_BOLD, width);
        let remedy = wrap(&finding.remedy, &style::BODY, width);
        Entry { number, finding, message, remedy }
    }

    pub(super) fn height(&self) -> Mm {
        LINE * (self.message.len() + self.remedy.len()) as f64
    }

    pub(super) fn draw(&self, canvas: &mut Canvas<'_>, list: Elem, left: Mm, top: Mm, map: Option<String>) {
        let item = canvas.element(list, Tag::Li);
        let label = canvas.element(item, Tag::Lbl);
        canvas.tagged(label, |ink| {
            let centre = at(left + MARK / 2.0, top + LINE * 0.42);
            mark::numbered(ink, centre, MARK, self.finding.weight, self.number);
        });
        let body = canvas.element(item, Tag::LBody);
        let text_left = left + HANG;
        let message_box =
            Rect::new(text_left, top - Mm(0.5), text_left + self.width(), top + LINE * self.message.len() as f64);
        let message = |ink: &mut Ink<'_>| {
            for (line, text) in self.message.iter().enumerate() {
                ink.text(at(text_left, top + LINE * (line as f64 + 0.75)), Align::Left, &style::BODY_BOLD, &text.text);
            }
        };
        match map {
            Some(anchor) => {
                let says = format!("finding {} on its page map", self.number);
                canvas.link(body, message_box, &Target::Anchor(anchor), &says, message);
            }
            None => canvas.tagged(body, message),
        }
        let below = top + LINE * self.message.len() as f64;
        let remedy = canvas.element(body, Tag::P);
        canvas.tagged(remedy, |ink| {
            for (line, text) in self.remedy.iter().enumerate() {
                ink.text(at(text_left, below + LINE * (line as f64 + 0.75)), Align::Left, &style::BODY, &text.text);
            }
        });
    }

    fn width(&self) -> Mm {
        self.message.iter().map(|line| line.width).fold(Mm::ZERO, Mm::max)
    }
}
