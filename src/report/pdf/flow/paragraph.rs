//! Paragraphs.

use super::super::size::Points;
use super::super::structure::Elem;
use super::super::style::{Align, TextStyle};
use super::super::tag::Tag;
use super::Flow;
use super::lines::{Setting, set_lines};
use super::text::Text;
use super::wrap::{SetLine, wrap_text};
use crate::geometry::Rect;
use crate::units::Mm;

/// The look of running text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ParagraphStyle {
    pub text: TextStyle,
    /// From baseline to baseline.
    pub line: Mm,
    pub align: Align,
    /// Room before and after; between two blocks only the larger counts, at the top of a page neither.
    pub above: Mm,
    pub below: Mm,
    /// From the region's left edge.
    pub indent: Mm,
}

impl ParagraphStyle {
    /// Lines at 1.4 times the type size, left aligned, without room before or after.
    #[must_use]
    pub fn new(text: TextStyle) -> ParagraphStyle {
        let line = Points(text.size.0 * 1.4).to_mm();
        ParagraphStyle { text, line, align: Align::Left, above: Mm::ZERO, below: Mm::ZERO, indent: Mm::ZERO }
    }

    #[must_use]
    pub fn spaced(self, above: Mm, below: Mm) -> ParagraphStyle {
        ParagraphStyle { above, below, ..self }
    }

    pub(super) fn setting(&self) -> Setting {
        Setting { style: self.text, line: self.line, align: self.align }
    }
}

/// A paragraph; the first two and the last two of its lines stay together.
#[derive(Clone, Debug, PartialEq)]
pub struct Paragraph {
    pub text: Text,
    pub style: ParagraphStyle,
}

impl Paragraph {
    #[must_use]
    pub fn new(text: impl Into<Text>, style: ParagraphStyle) -> Paragraph {
        Paragraph { text: text.into(), style }
    }

    pub(super) fn needed(&self, width: Mm) -> Mm {
        let lines = wrap_text(&self.text, &self.style.text, width - self.style.indent).len();
        self.style.line * first_lines(lines) as f64
    }

    pub(super) fn set(&self, flow: &mut Flow<'_>, parent: Elem) {
        let elem = flow.doc.element(parent, Tag::P);
        let lines = wrap_text(&self.text, &self.style.text, flow.width() - self.style.indent);
        flow_lines(flow, elem, &self.text, &lines, &self.style.setting(), self.style.indent);
    }
}

/// Lines that must stand together at the begin of so many.
pub(super) fn first_lines(lines: usize) -> usize {
    if lines <= 3 { lines } else { 2 }
}

/// Sets lines over as many regions as they need, `indent` from the left edge.
pub(super) fn flow_lines(
    flow: &mut Flow<'_>,
    elem: Elem,
    text: &Text,
    lines: &[SetLine],
    setting: &Setting,
    indent: Mm,
) {
    let mut rest = lines;
    while !rest.is_empty() {
        let count = lines_here(rest.len(), flow.lines_left(setting.line), flow.is_at_top());
        let (here, later) = rest.split_at(count.min(rest.len()));
        if !here.is_empty() {
            let height = setting.line * here.len() as f64;
            let area = flow.rest().area;
            let area = Rect::new(area.left + indent, flow.y, area.right, flow.y + height);
            let page = flow.region.page;
            set_lines(&mut flow.doc.page(page), elem, text, here, setting, area);
            flow.y += height;
        }
        rest = later;
        if !rest.is_empty() {
            flow.break_page();
        }
    }
}

/// How many of so many lines go where there is room for `room`: never one alone before or after the break, and at
/// the top of a region at least one.
fn lines_here(lines: usize, room: usize, at_top: bool) -> usize {
    let count = match room {
        room if room >= lines => lines,
        room if room + 1 == lines && lines > 3 => room - 1,
        room if room < first_lines(lines) => 0,
        room => room,
    };
    if at_top { count.max(1) } else { count }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_stands_alone_before_or_after_a_page_break() {
        assert_eq!(lines_here(5, 9, false), 5);
        assert_eq!(lines_here(5, 4, false), 3);
        assert_eq!(lines_here(5, 1, false), 0);
        assert_eq!(lines_here(3, 2, false), 0);
        assert_eq!(lines_here(5, 0, false), 0);
    }

    #[test]
    fn a_region_lower_than_a_line_still_takes_one() {
        assert_eq!(lines_here(5, 0, true), 1);
    }
}
