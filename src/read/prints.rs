//! Where a file says that systems and pages begin: the places in its text, bar by bar.

use std::ops::Range;

use super::tags::{TagKind, Tags};

/// The places of one bar.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct BarPlace {
    /// The start tag of the element that holds this bar's music of the first part that has it; `None` when no part
    /// has. It may close itself.
    pub head: Option<Range<usize>>,
    /// Start tags of `print` elements in that element, in order.
    pub own: Vec<Range<usize>>,
    /// Start tags of `print` elements of the same bar in other parts.
    pub others: Vec<Range<usize>>,
}

/// The places of all bars, counted as the reader counts them.
pub(crate) fn prints(text: &str) -> Vec<BarPlace> {
    let mut found = Found::default();
    let mut tags = Tags::of(text);
    while let Some(tag) = tags.next() {
        if tag.kind == TagKind::End {
            found.depth = found.depth.saturating_sub(1);
            continue;
        }
        found.start(tags.name(&tag), tag.range);
        if tag.kind == TagKind::Start {
            found.depth += 1;
        }
    }
    found.bars
}

#[derive(Default)]
struct Found {
    bars: Vec<BarPlace>,
    depth: usize,
    timewise: bool,
    /// The next bar: of the part at hand, or of the file where it goes bar by bar.
    next: usize,
    /// Whether what is being walked is the first music of the bar.
    is_first: bool,
}

impl Found {
    fn start(&mut self, name: &[u8], range: Range<usize>) {
        match (self.depth, self.timewise, name) {
            (0, _, b"score-timewise") => self.timewise = true,
            (1, false, b"part") => self.next = 0,
            (2, false, b"measure") => {
                self.next_bar();
                self.music(range);
            }
            (1, true, b"measure") => self.next_bar(),
            (2, true, b"part") => self.music(range),
            (3, _, b"print") => {
                let is_first = self.is_first;
                if let Some(bar) = self.bar() {
                    if is_first { bar.own.push(range) } else { bar.others.push(range) }
                }
            }
            _ => {}
        }
    }

    fn next_bar(&mut self) {
        self.next += 1;
        if self.bars.len() < self.next {
            self.bars.resize_with(self.next, BarPlace::default);
        }
    }

    /// The element that holds music of the bar at hand.
    fn music(&mut self, head: Range<usize>) {
        let Some(bar) = self.bar() else { return };
        let is_first = bar.head.is_none();
        if is_first {
            bar.head = Some(head);
        }
        self.is_first = is_first;
    }

    fn bar(&mut self) -> Option<&mut BarPlace> {
        self.next.checked_sub(1).and_then(|at| self.bars.get_mut(at))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str) -> Vec<(Option<&str>, Vec<&str>, Vec<&str>)> {
        let all = |ranges: Vec<Range<usize>>| ranges.into_iter().map(|range| &text[range]).collect();
        let bars = prints(text).into_iter();
        bars.map(|bar| (bar.head.map(|head| &text[head]), all(bar.own), all(bar.others))).collect()
    }

    #[test]
    fn prints_of_the_first_part_are_told_from_those_of_others() {
        let text = "<score-partwise><part id='P1'><measure n='1'/><measure n='2'><print a='1'/><note><print/></note>\
                    </measure></part><part><measure><print b='1'></print></measure><measure><print b='2'/></measure>\
                    <measure n='3'/></part></score-partwise>";
        assert_eq!(
            shown(text),
            [
                (Some("<measure n='1'/>"), vec![], vec!["<print b='1'>"]),
                (Some("<measure n='2'>"), vec!["<print a='1'/>"], vec!["<print b='2'/>"]),
                (Some("<measure n='3'/>"), vec![], vec![]),
            ]
        );
    }

    #[test]
    fn where_a_file_goes_bar_by_bar_the_first_part_of_each_bar_holds_its_breaks() {
        let text = "<score-timewise><measure><part id='P1'><print/></part><part id='P2'><print x=''/></part></measure>\
                    <measure/></score-timewise>";
        assert_eq!(
            shown(text),
            [(Some("<part id='P1'>"), vec!["<print/>"], vec!["<print x=''/>"]), (None, vec![], vec![])]
        );
    }
}
