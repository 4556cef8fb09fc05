//! The words beside the pages: number, what was found, what is wanted, what to do.

use super::columns::{Block, Spot as Seat};
use super::marks::Marked;
use super::pens::{self, LEADING};
use crate::report::pages::mark;
use crate::report::pdf::{Align, Canvas, Elem, Ink, Tag, Target, TextStyle, at, wrap};
use crate::rules::{Finding, Weight};
use crate::units::Mm;

mod advice;

pub use advice::{Advice, limit};

/// What one block of words says, under the marks of all findings that say the same.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Entry {
    /// In order of their numbers.
    pub marks: Vec<(usize, Weight)>,
    /// What was found, then what is wanted and what to do.
    paragraphs: [Vec<String>; 2],
    near: Mm,
}

/// Marks in a row, when several findings share their words.
const IN_A_ROW: usize = 10;
/// How far a mark stands higher than its block, to be level with the first line of text.
const RAISED: Mm = Mm(0.2);
/// Text stands right of the marks.
const INDENT: Mm = Mm(5.4);
/// From mark to mark in a row.
const PITCH: Mm = Mm(4.6);
/// From the top of a block to its first baseline.
const ASCENT: Mm = Mm(2.75);
/// White between what was found and what to do.
const SPLIT: Mm = Mm(0.5);

/// Entries of the marked spots from the top of the page down, each finding once; findings whose words are the same
/// share an entry. `advice` remembers what this sheet has said already.
#[must_use]
pub fn entries(findings: &[Finding], marked: &[&Marked], width: Mm, advice: &mut Advice) -> Vec<Entry> {
    let mut groups: Vec<(&Finding, Entry)> = Vec::new();
    let all = marked;
    for marked in marked {
        let number = marked.spot.number;
        let Some(finding) = number.checked_sub(1).and_then(|at| findings.get(at)) else { continue };
        if !advice.is_new(number) {
            continue;
        }
        let near = marked.seat.map(|seat| seat.mark).or(marked.outline).map_or(Mm::ZERO, |rect| rect.top);
        match groups.iter_mut().find(|(other, _)| advice::is_same(other, finding)) {
            Some((_, entry)) => entry.marks.push((number, finding.weight)),
            None => groups.push((finding, Entry { marks: vec![(number, finding.weight)], near, ..Entry::default() })),
        }
    }
    for (finding, entry) in &mut groups {
        entry.marks.sort_unstable();
        let first = entry.marks.first().map_or(0, |mark| mark.0);
        let found = found(finding, first, all);
        // What is wanted stands in the words of the places already.
        let wanted = if found.is_empty() { advice.of(finding, first) } else { advice.remedy(finding, first) };
        let found = if found.is_empty() { vec![finding.message.clone()] } else { found };
        let set = |text: &str, style: TextStyle| {
            let lines = wrap(&kept_together(text), &style, width - INDENT);
            lines.into_iter().map(|line| line.text).collect::<Vec<_>>()
        };
        let found = found.iter().flat_map(|text| set(text, pens::words())).collect();
        entry.paragraphs = [found, set(&wanted, pens::quiet())];
    }
    groups.into_iter().map(|(_, entry)| entry).collect()
}

/// What was found at the marked places of a finding that has several, each in its own words; more than these nobody
/// reads beside a picture.
fn found(finding: &Finding, number: usize, marked: &[&Marked]) -> Vec<String> {
    const MOST: usize = 8;
    if finding.places.len() < 2 {
        return Vec::new();
    }
    let here = marked.iter().filter(|marked| marked.spot.number == number);
    let words = here.filter_map(|marked| finding.places.get(marked.spot.place)?.here.as_ref());
    let mut words: Vec<String> = words.map(|here| here.says.clone()).collect();
    words.dedup();
    let more = words.len().saturating_sub(MOST);
    if more > 0 {
        words.truncate(MOST);
        words.push(format!("{more} more places."));
    }
    words
}

impl Entry {
    /// How high it is, and where it would stand best.
    #[must_use]
    pub fn block(&self) -> Block {
        let lines = self.paragraphs.iter().map(Vec::len).sum::<usize>();
        let text = LEADING * lines as f64 + SPLIT;
        Block { height: (self.rows() + text).max(mark::SIZE), near: self.near }
    }

    /// Draws it as a new item of `list`.
    pub fn draw(&self, canvas: &mut Canvas<'_>, list: Elem, seat: Seat, linked: impl Fn(usize) -> Option<Target>) {
        let item = canvas.element(list, Tag::Li);
        let label = canvas.element(item, Tag::Lbl);
        for (place, (number, weight)) in self.marks.iter().enumerate() {
            let (row, column) = ((place / IN_A_ROW) as f64, (place % IN_A_ROW) as f64);
            let half = mark::SIZE / 2.0;
            let centre = at(seat.left + half + PITCH * column, seat.top + half + PITCH * row - RAISED);
            let draw = |ink: &mut Ink<'_>| mark::numbered(ink, centre, mark::SIZE, *weight, *number);
            match linked(*number) {
                Some(target) => {
                    let area = mark::around(centre, mark::SIZE);
                    canvas.link(label, area, &target, &mark::says(*weight, *number), draw);
                }
                None => canvas.tagged(label, draw),
            }
        }
        let body = canvas.element(item, Tag::LBody);
        let mut y = seat.top + self.rows() + ASCENT;
        for (lines, style) in self.paragraphs.iter().zip([pens::words(), pens::quiet()]) {
            let paragraph = canvas.element(body, Tag::P);
            if !lines.is_empty() {
                canvas.tagged(paragraph, |ink| set(ink, seat.left + INDENT, &mut y, &style, lines));
            }
            y += SPLIT;
        }
    }

    /// Height of the rows of marks when there are too many to hang beside the text.
    fn rows(&self) -> Mm {
        match self.marks.len() {
            0 | 1 => Mm::ZERO,
            count => PITCH * count.div_ceil(IN_A_ROW) as f64,
        }
    }
}

fn set(ink: &mut Ink<'_>, left: Mm, y: &mut Mm, style: &TextStyle, lines: &[String]) {
    for line in lines {
        // The space keeps the words of two lines apart when the text is copied or heard.
        ink.text(at(left, *y), Align::Left, style, &format!("{line} "));
        *y += LEADING;
    }
}

/// With no-break spaces: a figure never stands at the end of a line with its unit on the next.
pub fn kept_together(text: &str) -> String {
    let mut kept = String::new();
    for word in text.split(' ') {
        let after_figure = kept.chars().last().is_some_and(|last| last.is_ascii_digit());
        let unit = matches!(word.trim_end_matches(['.', ',', ';', ')']), "mm" | "s" | "%" | "spaces");
        if !kept.is_empty() {
            kept.push(if after_figure && unit { '\u{a0}' } else { ' ' });
        }
        kept.push_str(word);
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_keeps_its_unit() {
        assert_eq!(kept_together("only 3.2 mm, not 4 bars"), "only 3.2\u{a0}mm, not 4 bars");
    }
}
